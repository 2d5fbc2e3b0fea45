import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { finishSample, makeRowSample, sampleSink } from "../../src/intake/row-sample.js";

const thinnedTo = (bound: number, rows: number, block = 2) => {
  const sample = makeRowSample(bound, block);
  const { row } = sampleSink(sample);
  row(["n"], 0, true);
  for (let i = 0; i < rows; i++) row([String(i % 10)], i + 1, true);
  return finishSample(sample);
};

describe("a sample of the rows of a file", () => {
  it("keeps a small file whole, in one stretch", () => {
    expect(thinnedTo(100, 5)).toMatchObject({ rows: [1, 2, 3, 4, 5].map((line) => ({ cells: [String((line - 1) % 10)], line, stretch: 0 })), whole: true });
    expect(thinnedTo(100, 0)).toMatchObject({ rows: [], whole: true });
  });

  it("keeps the first, the last, and evenly spaced blocks between, each a stretch of its own", () => {
    const { rows, whole } = thinnedTo(12, 17);
    expect(whole).toBe(false);
    expect(rows.map(({ line, stretch }) => [line, stretch])).toEqual([[1, 0], [2, 0], [9, 1], [10, 1], [15, 2], [16, 2], [17, 2]]);
  });

  it("keeps rows in order, each once, with the last; no more than the bound allows besides three blocks; and all if they fit", () => {
    fc.assert(
      fc.property(fc.nat(400), fc.integer({ min: 1, max: 300 }), fc.integer({ min: 1, max: 7 }), (count, bound, block) => {
        const { rows, whole } = thinnedTo(bound, count, block);
        const lines = rows.map(({ line }) => line);
        expect(lines).toEqual([...new Set(lines)].sort((a, b) => a - b));
        expect(lines.at(-1)).toBe(count === 0 ? undefined : count);
        expect(lines[0]).toBe(count === 0 ? undefined : 1);
        expect(whole).toBe(lines.length === count);
        if (2 * count <= bound) expect(whole).toBe(true);
        expect(2 * rows.length).toBeLessThanOrEqual(bound + 2 * 4 * block);
        // Within a stretch nothing is left out; between two something is.
        for (let i = 1; i < rows.length; i++) expect(rows[i]!.stretch === rows[i - 1]!.stretch).toBe(rows[i]!.line === rows[i - 1]!.line + 1);
      }),
      { numRuns: 200 },
    );
  });

  it("counts, and does not keep, rows that do not fit the header or repeat it, rows that cannot be split, and the row of a cut", () => {
    const sample = makeRowSample(100);
    const { row, badRow, cutOff } = sampleSink(sample);
    for (const [i, cells] of [[" at ", "rail"], ["1", "open"], ["at", "rail "], ["2"], ["3"], ["4", "closed"]].entries()) row(cells, i + 1, true);
    badRow("quote not closed", "", "", 7);
    cutOff();
    row(["5", "clo"], 8, false);
    expect(finishSample(sample)).toEqual({
      header: ["at", "rail"],
      rows: [{ cells: ["1", "open"], line: 2, stretch: 0 }, { cells: ["4", "closed"], line: 6, stretch: 0 }],
      whole: true,
      misfits: new Map([[2, 1], [1, 2]]),
      badRows: 1,
      cutOff: true,
    });
  });
});
