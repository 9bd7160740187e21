/** One key of a document in the guide: `- \`density\` (may be left out): how densities were measured.` */
export function keyLine(indent: string, key: string, isOptional: boolean, means: string): string {
  return `${indent}- \`${key}\`${isOptional ? ' (may be left out)' : ''}: ${means}.`;
}

/** The keys inside a key, set in below it. */
export function keyLines(keys: Readonly<Record<string, string>>, optional: readonly string[] = []): string[] {
  return Object.entries(keys).map(([key, means]) => keyLine('  ', key, optional.includes(key), means));
}
