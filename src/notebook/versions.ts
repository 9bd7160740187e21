import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from './project-root.js';

/** Versions that a report names: the program, Node, and the packages its figures pass through. */
export function versions(): Record<string, string> {
  const own = JSON.parse(readFileSync(join(projectRoot(), 'package.json'), 'utf8')) as {
    version: string;
    dependencies: Record<string, string>;
  };
  return { meltbook: own.version, node: process.version, jstat: own.dependencies.jstat ?? '' };
}

/** Now, as a report states it: UTC, to the second. */
export function timestamp(): string {
  return new Date().toISOString().replace(/\.\d+Z$/, 'Z');
}
