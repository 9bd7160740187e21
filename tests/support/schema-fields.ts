import type { JsonSchema } from '../../src/uncertainty/budget-file/json-schema.js';

/** One member of a JSON document as its schema describes it. */
export interface SchemaField {
  /** Where it stands: `inputs[]`, or `inputs[] of certificate` where alternatives are told apart. */
  readonly record: string;
  readonly name: string;
  readonly isRequired: boolean;
  readonly description: string;
}

/** All members of all records of a schema, alternatives one by one. */
export function schemaFields(schema: JsonSchema, record = 'the file'): SchemaField[] {
  if (schema.items !== undefined) return schemaFields(schema.items, `${record}[]`);
  if (schema.oneOf !== undefined) {
    return schema.oneOf.flatMap((alternative) =>
      schemaFields(alternative, `${record} of ${kindOf(alternative)}`),
    );
  }
  return Object.entries(schema.properties ?? {}).flatMap(([name, member]) => [
    {
      record,
      name,
      isRequired: schema.required?.includes(name) ?? false,
      description: member.description ?? '',
    },
    ...schemaFields(member, record === 'the file' ? name : `${record}.${name}`),
  ]);
}

/** The constant, or the constants, that tell an alternative from the others. */
function kindOf({ properties = {} }: JsonSchema): string {
  const tag = Object.values(properties).find(
    (member) => member.const !== undefined || member.enum !== undefined,
  );
  return tag?.const ?? tag?.enum?.join(', ') ?? '';
}

/** A member as a row of a table in Markdown. */
export function fieldRow({ name, isRequired, description }: SchemaField): string {
  return `| \`${name}\` | ${isRequired ? 'yes' : 'no'} | ${description} |`;
}

/** All constants and words to choose from in a schema, but for the name of the format. */
export function schemaWords(schema: JsonSchema): string[] {
  const own = [...(schema.enum ?? []), ...(schema.const === undefined ? [] : [schema.const])];
  const parts = [
    ...Object.values(schema.properties ?? {}),
    ...(schema.oneOf ?? []),
    ...(schema.items === undefined ? [] : [schema.items]),
  ];
  return [...own, ...parts.flatMap(schemaWords)].filter((word) => !word.startsWith('meltbook'));
}
