import { expect, test } from "vitest";
import { knownInstants } from "../../../src/truth/signals/known-instants.js";
import { readingsOf } from "../../intake/packed.js";

const known = knownInstants(readingsOf("s", [[10, 1], [20, Number.NaN], [30, 0], [40, Number.NaN]]));

test("the first word after an instant, or at it, and the last before it; a lost word is none", () => {
  expect([9, 10, 11, 29, 30].map(known.firstAfter)).toEqual([10, 30, 30, 30, Infinity]);
  expect([9, 10, 11, 30, 31].map(known.firstFrom)).toEqual([10, 10, 30, 30, Infinity]);
  expect([10, 11, 30, 31, Infinity].map(known.lastBefore)).toEqual([-Infinity, 10, 10, 30, 30]);
});

test("a signal without readings never spoke", () => {
  const silent = knownInstants(readingsOf("s", []));
  expect([silent.firstAfter(0), silent.firstFrom(0), silent.lastBefore(0)]).toEqual([Infinity, Infinity, -Infinity]);
});
