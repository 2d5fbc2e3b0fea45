import { describe, expect, test } from "vitest";
import { layOut } from "../../../src/truth/reference/layout.js";
import { movementsNearby, shareNearMovements } from "../../../src/truth/reference/nearby.js";
import { witnessesOf } from "../../../src/truth/reference/witness.js";
import { inMinutes, MINUTE, smallSite, type SmallSignal, type Steps } from "./small-witnesses.js";

const LENGTH = 600;
const period = { from: 0, to: LENGTH * MINUTE };
const line = (...steps: Steps) => inMinutes(LENGTH, steps);

/** By class, what is made of each boundary of bay-1: 0 nothing moved, 1 something did, 2 nobody could tell. */
function around(signals: Readonly<Record<string, SmallSignal>>): Record<string, string> {
  const { site, accounts } = smallSite(signals);
  const all = witnessesOf(site, accounts);
  const own = all.filter((one) => one.subject === "bay-1");
  const { boundaries } = layOut(own, line(), period, 5 * MINUTE);
  const found = movementsNearby(boundaries, own, all.filter((one) => one.subject !== "bay-1"), "bay", () => 0.1);
  return Object.fromEntries(found.map((one) => [one.class, one.moved.join("")]));
}

const meter: SmallSignal = { on: "bay-1", shares: ["board"], account: line([0, 0], [100, 1], [300, 0]) };

describe("movements nearby", () => {
  test("count within five minutes, in whatever direction, by class", () => {
    expect(around({ meter, rail: { on: "door-1", account: line([0, 1], [104, 0], [307, 1]) }, phone: { on: "person-1", account: line([0, 0], [96, 1], [296, 0]) } })).toEqual({ door: "10", person: "11" });
  });

  test("of other bays prove nothing about this one", () => {
    expect(around({ meter, other: { on: "bay-2", account: line([0, 0], [100, 1]) } })).toEqual({});
  });

  test("on a board that every witness that changed hangs on say nothing", () => {
    expect(around({ meter, rail: { on: "door-1", shares: ["board"], account: line([0, 0], [100, 1]) } })).toEqual({ door: "22" });
  });

  test("cannot be told while the door's contact is dark", () => {
    expect(around({ meter, rail: { on: "door-1", account: line([0, 0], [50, 2], [200, 0]) } })).toEqual({ door: "20" });
  });

  test("speak for the nearest boundary alone", () => {
    const flapping: SmallSignal = { on: "bay-1", account: line([0, 0], [100, 1], [102, 0], [300, 1]) };
    expect(around({ flapping, rail: { on: "door-1", account: line([0, 0], [99, 1]) } })).toEqual({ door: "120" });
  });

  test("cover a share of all time, overlaps counted once", () => {
    const { site, accounts } = smallSite({ rail: { on: "door-1", account: line([0, 0], [100, 1], [102, 0]) }, hinge: { on: "door-1", account: line([0, 0], [598, 1]) } });
    expect(shareNearMovements(witnessesOf(site, accounts), period)).toBeCloseTo((12 + 7) / LENGTH, 12);
  });
});
