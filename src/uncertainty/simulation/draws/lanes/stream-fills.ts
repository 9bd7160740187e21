import { type StreamKey, startBlock } from '../block-stream.js';
import { fillSymmetric } from '../symmetric-uniforms.js';
import { fillFrom, type Ziggurat } from '../ziggurat.js';
import { FourLanes, lanes, mostTrials } from './four-lanes.js';

/** Draws one block of one or several quantities into their columns. */
export type BlockDraw = (block: number) => void;

/** A column that one stream fills, from its beginning in each block. */
export interface StreamFill {
  readonly key: StreamKey;
  readonly column: Float64Array;
  readonly centre: number;
  /** Factor of a deviate, or half-width of a rectangular quantity. */
  readonly factor: number;
  /** Density of the deviates; null for a rectangular quantity. */
  readonly ziggurat: Ziggurat | null;
}

type StartedFill = StreamFill & { readonly state: Uint32Array };

/** Made at the first need, one a thread. */
let opened: FourLanes | null | undefined;

/** The draws of many columns, in fours where WebAssembly can; the numbers do not depend on who is drawn with whom. */
export function streamDraws(fills: readonly StreamFill[]): BlockDraw[] {
  const started = fills.map((fill): StartedFill => ({ ...fill, state: new Uint32Array(4) }));
  if (opened === undefined) opened = FourLanes.open();
  return [started.filter((fill) => fill.ziggurat !== null), started.filter((fill) => fill.ziggurat === null)]
    .flatMap(inFours)
    .map((group) => groupDraw(group, opened ?? null));
}

function inFours(fills: readonly StartedFill[]): StartedFill[][] {
  return Array.from({ length: Math.ceil(fills.length / lanes) }, (_, i) =>
    fills.slice(lanes * i, lanes * (i + 1)),
  );
}

/**
 * One draw of one to four columns of the same kind.
 *
 * @param four null to draw one after the other in TypeScript
 */
export function groupDraw(group: readonly StartedFill[], four: FourLanes | null): BlockDraw {
  const start = (block: number): void => {
    for (const { key, state } of group) startBlock(key, block, state);
  };
  if (four === null || group.length === 1 || group[0]!.column.length > mostTrials) {
    return (block) => {
      start(block);
      for (const fill of group) fillAlone(fill);
    };
  }
  const deviates = group.flatMap((fill) =>
    fill.ziggurat === null ? [] : [{ ...fill, ziggurat: fill.ziggurat }],
  );
  return (block) => {
    start(block);
    if (deviates.length > 0) four.fillDeviates(deviates);
    else four.fillSymmetric(group);
  };
}

function fillAlone({ ziggurat, state, column, centre, factor }: StartedFill): void {
  if (ziggurat === null) fillSymmetric(state, column, centre, factor);
  else fillFrom(ziggurat, state, column, centre, factor);
}
