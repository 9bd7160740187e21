import { type ParseArgsConfig, parseArgs } from 'node:util';
import { MeltbookError } from '../errors.js';

/** What a command prints to and how it ends: the only place where the program speaks. */
export interface Terminal {
  out(line: string): void;
  err(line: string): void;
}

/** One command of `meltbook`. */
export interface Command {
  readonly name: string;
  /** Arguments as shown in the help, such as `<study> [--json]`. */
  readonly usage: string;
  readonly summary: string;
  /** Further lines of the help, such as one for each option with its default. */
  help?(): Promise<readonly string[]>;
  /** @returns exit code: 0 done, 2 bad input, 3 records do not pass, 4 a run failed, 5 evidence does not hold */
  run(args: readonly string[], terminal: Terminal): Promise<number>;
}

/** A command line that cannot be followed. */
export class UsageError extends MeltbookError {
  constructor(message: string, options?: ErrorOptions) {
    super(message, 2, options);
  }
}

type Options = NonNullable<ParseArgsConfig['options']>;

/** Options and positional arguments of one command, read strictly. */
export interface Arguments {
  readonly values: Readonly<Record<string, string | boolean | readonly (string | boolean)[] | undefined>>;
  readonly positionals: readonly string[];
}

/** @throws UsageError an unknown option, a missing value, or another number of arguments than the usage says */
export function parseArguments(
  args: readonly string[],
  options: Options,
  positionals: number,
  usage: string,
): Arguments {
  let parsed: Arguments;
  try {
    parsed = parseArgs({ args: [...args], options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new UsageError(
      `${error instanceof Error ? error.message : String(error)}\nusage: meltbook ${usage}`,
      { cause: error },
    );
  }
  if (parsed.positionals.length !== positionals) {
    throw new UsageError(
      `found ${parsed.positionals.length} argument(s), expected ${positionals}\nusage: meltbook ${usage}`,
    );
  }
  return parsed;
}

/** The value of a text option, or what stands for it. */
export function textOption(args: Arguments, name: string, otherwise: string): string {
  const value = args.values[name];
  return typeof value === 'string' ? value : otherwise;
}

/** @throws UsageError a value that is not a whole number of at least `least` */
export function integerOption(args: Arguments, name: string, otherwise: number, least = 1): number {
  const value = args.values[name];
  if (typeof value !== 'string') return otherwise;
  const number = Number(value);
  if (!/^\d+$/.test(value) || !Number.isSafeInteger(number) || number < least) {
    throw new UsageError(`--${name}: found "${value}", expected a whole number of at least ${least}`);
  }
  return number;
}
