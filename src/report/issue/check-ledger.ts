import { canonicalJson } from '../../records/canonical-json.js';
import { isIssueNumber, isStudyName } from './issue-folders.js';
import { headHash, type LedgerLine, ledgerTexts, selfHash } from './ledger.js';

/** One thing that does not hold: where, what was found, what was expected. */
export interface AuditProblem {
  readonly place: string;
  readonly found: string;
  readonly expected: string;
}

/** A ledger as read: `lines` has `null` where a line could not be read. */
export interface LedgerReading {
  readonly lines: readonly (LedgerLine | null)[];
  readonly problems: readonly AuditProblem[];
}

const keys = 'created manifest number previous schema self sequence study';

function parsed(text: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(text);
    const isRecord = typeof value === 'object' && value !== null && !Array.isArray(value);
    return isRecord && canonicalJson(value) === text ? (value as Record<string, unknown>) : null;
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

/** The line, where its fields are those of a ledger line and can be used as names. */
function asLine(value: Record<string, unknown> | null): LedgerLine | null {
  if (value === null || Object.keys(value).sort().join(' ') !== keys) return null;
  const { schema, sequence, ...texts } = value;
  if (schema !== 'meltbook ledger 1' || typeof sequence !== 'number') return null;
  if (Object.values(texts).some((field) => typeof field !== 'string')) return null;
  const line = value as unknown as LedgerLine;
  return isStudyName(line.study) && isIssueNumber(line.number) ? line : null;
}

/**
 * Checks each line of a ledger by itself and against the line before. A break of the chain is laid to a line only where
 * the line before holds by itself, so that one altered byte names one line.
 */
export function readLedger(text: string): LedgerReading {
  const texts = ledgerTexts(text);
  const problems: AuditProblem[] = [];
  const lines: (LedgerLine | null)[] = [];
  let soundBefore = true;
  texts.forEach((lineText, index) => {
    const place = `ledger.jsonl, line ${index + 1}`;
    const line = asLine(parsed(lineText));
    const before = problems.length;
    const expect = (holds: boolean, found: string, expected: string): void => {
      if (!holds) problems.push({ place, found, expected });
    };
    expect(line !== null, 'text that is no line of a ledger', `canonical JSON with ${keys}`);
    if (line !== null) {
      expect(line.sequence === index + 1, `sequence ${line.sequence}`, `${index + 1}`);
      const own = selfHash(line);
      expect(line.self === own, `hash ${line.self} of itself`, own);
      const previous = headHash(texts.slice(Math.max(0, index - 1), index));
      if (soundBefore)
        expect(line.previous === previous, `hash ${line.previous} of the line before`, previous);
    }
    soundBefore = problems.length === before;
    lines.push(line);
  });
  if (text !== '' && !text.endsWith('\n')) {
    problems.push({
      place: `ledger.jsonl, line ${texts.length}`,
      found: 'no line feed',
      expected: 'a line feed',
    });
  }
  return { lines, problems };
}
