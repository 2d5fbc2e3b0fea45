/* eslint-disable @typescript-eslint/no-non-null-assertion -- segments and the instants between them are parallel lists */
import type { Interval } from "../../ground/intervals.js";
import { stretches } from "../../timeline/stretches.js";
import { ON } from "../../timeline/timeline.js";
import type { Stir } from "../reference/witness.js";
import type { StirHistory } from "./stir-history.js";

/** Who says by stirring that the person is here, and whose silence goes with their being away. */
export interface StirVoices {
  /** Those that noticed somebody in the segment, or anywhere in the stretch of "here" that it belongs to: a pulse is remembered. */
  readonly here: (segment: number) => readonly Stir[];
  /** All that were heard. Their silence proves nothing: it never counts as a witness. */
  readonly silent: readonly Stir[];
  readonly isDark: (instant: number) => boolean;
  /** Where darkness begins and ends. */
  readonly edges: Float64Array;
}

/** `starts[b]`: where segment b + 1 begins; `path[k]`: 1 where the person is most likely here. */
export function stirVoices({ stirs, dark }: StirHistory, path: Uint8Array, starts: readonly number[], period: Interval): StirVoices {
  const stirred = stirs.map(({ heard }) => stretches(heard, ON));
  const within = ({ from, to }: Interval): Stir[] =>
    stirs.filter((_, s) => {
      const next = stirred[s]![firstEndingAfter(stirred[s]!, from)];
      return next !== undefined && next.from < to;
    });
  const here: (readonly Stir[])[] = [];
  for (let k = 0; k < path.length;) {
    let end = k + 1;
    while (path[k] === ON && end < path.length && path[end] === ON) end += 1;
    const voices = within({ from: starts[k - 1] ?? period.from, to: starts[end - 1] ?? period.to });
    for (; k < end; k += 1) here.push(voices);
  }
  return {
    here: (segment) => here[segment] ?? [],
    silent: stirs,
    isDark: (instant) => {
      const next = dark[firstEndingAfter(dark, instant)];
      return next !== undefined && next.from <= instant;
    },
    edges: Float64Array.from(dark.flatMap(({ from, to }) => [from, to])),
  };
}

/** The first of a list in order and disjoint that ends after the instant. */
function firstEndingAfter(list: readonly Interval[], instant: number): number {
  let [low, high] = [0, list.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (list[middle]!.to > instant) high = middle;
    else low = middle + 1;
  }
  return low;
}
