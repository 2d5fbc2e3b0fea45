import type { Findings } from "../../src/result/findings.js";
import type { LocalClock } from "../../src/report/local-time.js";
import type { DrawnLayer, Row } from "./drawn-numbers.js";

/** What a chart's numbers are held against. */
export interface Source {
  /** The first word of the chart's name. */
  readonly name: string;
  readonly findings: Findings;
  readonly clock: LocalClock;
  readonly layers: readonly DrawnLayer[];
  /** The numbers in the chart's name, from 0: of `firing-2-3` 1 and 2. */
  readonly at: readonly number[];
}

/** Holds every number of the chart's data, gives the words with digits it may show, and what was held against nothing. */
export type Origin = (source: Source) => { readonly words: readonly string[]; readonly left: readonly string[] };

/** The rows of all layers of some marks, each once. */
export function rowsOf(layers: readonly DrawnLayer[], ...marks: string[]): Row[] {
  return [...new Set(layers.filter(({ mark }) => marks.includes(mark)).flatMap(({ rows }) => rows))];
}
