import type { RowIntake } from "../intake/row-intake.js";
import { makeRowThinner } from "./row-thinner.js";
import type { ColumnSample } from "../draft/column-sample.js";

/** What a sink took of a file. */
export type Sampled = Pick<ColumnSample, "header" | "rows" | "oddRows" | "whole"> & { readonly cutOff: boolean };

/** Stands where an audit's intake would, so that a draft is shown the very rows that an audit will read. */
export interface SampleSink {
  readonly intake: RowIntake;
  readonly sampled: () => Sampled;
}

/** A sink that keeps rows up to `bound` characters, see {@link makeRowThinner}. */
export function makeSampleSink(bound: number): SampleSink {
  const thinner = makeRowThinner(bound);
  let header: readonly string[] | null = null;
  let [rows, oddRows, cutOff] = [0, 0, false];
  return {
    intake: {
      row(cells, line) {
        if (header === null) {
          header = [...cells];
          return;
        }
        rows++;
        thinner.take([...cells], line);
      },
      badRow() {
        oddRows++;
      },
      cutOff() {
        cutOff = true;
      },
      rows: () => rows,
      lastInstant: () => -Infinity,
      finish() {
        throw new RangeError("a sample has no line in the ledger");
      },
    },
    sampled: () => ({ header: header ?? [], ...thinner.finish(), oddRows, cutOff }),
  };
}
