import { expect, it } from "vitest";
import { lyingSets, silencingSets } from "../../../src/judge/fooled/lying-sets.js";
import type { Expression } from "../../../src/site/expression.js";
import { structureOf } from "../small-site.js";

/** A depot's lock rule: both meters of every bay and a contact of every gate, eight signals a board, four boards a hub. */
const bays = Array.from({ length: 40 }, (_, i) => i);
const signals = bays.flatMap((bay) => [`over-${bay}`, `wall-${bay}`, `rail-${bay}`]);
const everything: Expression = { op: "all", of: signals.map((ref) => ({ op: "is", ref, state: 0, heldMs: null, recentlyMs: null })) };
const board = (signal: string): number => Math.floor(signals.indexOf(signal) / 8);
const causesOf = (signal: string): string[] => [`board-${board(signal)}`, `hub-${Math.floor(board(signal) / 4)}`];

it("answers for a rule over all forty bays of a depot: four hubs must lie together", () => {
  const { sets, upToSize } = lyingSets(structureOf(everything, causesOf));
  expect(sets).toEqual([["hub-0", "hub-1", "hub-2", "hub-3"].map((name) => ({ kind: "cause", name }))]);
  expect(upToSize).toBe(4);
});

it("answers too where nothing is shared: no four signals can satisfy a hundred and twenty", () => {
  expect(lyingSets(structureOf(everything))).toEqual({ sets: [], upToSize: 4 });
});

it("knows that any one of them keeps it from acting", () => {
  const { sets } = silencingSets(structureOf(everything, causesOf));
  expect(sets.filter((set) => set.length === 1)).toHaveLength(signals.length + 15 + 4);
});
