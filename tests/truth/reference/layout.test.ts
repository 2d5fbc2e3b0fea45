import { describe, expect, test } from "vitest";
import { layOut } from "../../../src/truth/reference/layout.js";
import { witnessesOf } from "../../../src/truth/reference/witness.js";
import { inMinutes, MINUTE, smallSite, type Steps } from "./small-witnesses.js";

const LENGTH = 600;
const nothing = inMinutes(LENGTH, []);

/** Instants in minutes, the diary's word, and each witness's votes, as strings of 0, 1 and 2. */
function laidOut(witnesses: readonly Steps[], written = nothing) {
  const { site, accounts } = smallSite(Object.fromEntries(witnesses.map((steps, i) => [`w${i}`, { on: "bay-1", account: inMinutes(LENGTH, steps) }])));
  const layout = layOut(witnessesOf(site, accounts), written, { from: 0, to: LENGTH * MINUTE }, 5 * MINUTE);
  return { at: layout.boundaries.map((one) => one.instant / MINUTE), written: layout.written.join(""), votes: layout.votes.map((one) => one.join("")) };
}

describe("segments", () => {
  test("lie between candidate transitions, at the median of what was seen, and a lag costs nobody a vote", () => {
    expect(laidOut([[[0, 0], [100, 1], [200, 0]], [[0, 0], [104, 1], [201, 0]], [[0, 0], [101, 1], [203, 0]]])).toEqual({ at: [101, 201], written: "222", votes: ["010", "010", "010"] });
  });

  test("leave out whoever was dark all through, not whoever was dark for a part", () => {
    expect(laidOut([[[0, 0], [100, 1], [200, 0], [300, 1]], [[0, 0], [50, 2], [210, 0], [300, 1]]])).toEqual({ at: [100, 200, 300], written: "2222", votes: ["0101", "0201"] });
  });

  test("begin and end with the diary, where no witness changed nearby", () => {
    const written = inMinutes(LENGTH, [[150, 1], [180, 2]]);
    expect(laidOut([[[0, 0], [100, 1], [300, 0]]], written)).toEqual({ at: [100, 150, 180, 300], written: "22122", votes: ["01110"] });
  });

  test("take a diary's arrival and the witness's near it as one", () => {
    const written = inMinutes(LENGTH, [[0, 0], [98, 1], [303, 0]]);
    expect(laidOut([[[0, 0], [100, 1], [300, 0]]], written)).toEqual({ at: [100, 300], written: "010", votes: ["010"] });
  });

  test("of a subject that nobody watches are one", () => {
    expect(laidOut([])).toEqual({ at: [], written: "2", votes: [] });
  });
});
