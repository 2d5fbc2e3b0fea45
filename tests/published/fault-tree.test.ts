/**
 * The pressure-tank fault tree of NUREG-0492 (Vesely et al. 1981), chapter VIII, in its reduced form, through our own algebra
 * of lying sets: basic events stand as signals, the top event as the condition.
 * Tree and minimal cut sets: from memory (M), the chapter's text not seen; that K2 is a one-event failure: seen in a public
 * secondary source, "Engineering Reliability" p. 130 (S). Probabilities of the basic events: from memory (M).
 * Top probabilities: recomputed (R). The printed top value is not asserted: what is remembered of it does not follow from these inputs.
 */
import { describe, expect, test } from "vitest";
import { anyOfShares, jointShare } from "../../src/judge/fooled/fault-rates.js";
import { lyingSets, silencingSets } from "../../src/judge/fooled/lying-sets.js";
import type { Expression } from "../../src/site/expression.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON } from "../../src/timeline/timeline.js";
import { structureOf, truthOf } from "../judge/small-site.js";
import { constantTimeline } from "../timeline/constant-timeline.js";

const event = (ref: string): Expression => ({ op: "is", ref, state: 1, heldMs: null, recentlyMs: null });
const either = (...of: Expression[]): Expression => ({ op: "any", of });
const both = (...of: Expression[]): Expression => ({ op: "all", of });

const e5 = either(event("K1"), event("R"));
const e4 = either(event("S1"), e5);
const e3 = both(event("S"), e4);
const e2 = either(event("K2"), e3);
const top = either(event("T"), e2);

const probability: Readonly<Record<string, number>> = { T: 5e-6, K2: 3e-5, K1: 3e-5, R: 1e-4, S: 1e-4, S1: 3e-5 };
const sets = lyingSets(structureOf(top)).sets.map((set) => set.map(({ name }) => name).sort());
const setShares = sets.map((set) => jointShare(set.map((name) => probability[name]!)));

describe("the pressure tank", () => {
  test("has the minimal cut sets {T}, {K2}, {S, S1}, {S, K1}, {S, R}", () => {
    expect(new Set(sets.map((set) => set.join(" ")))).toEqual(new Set(["T", "K2", "S S1", "K1 S", "R S"]));
  });

  test("has the top probability 3.5016e-5 by the rare-event sum", () => {
    expect(setShares.reduce((sum, one) => sum + one, 0)).toBeCloseTo(3.5016e-5, 12);
  });

  test("has the top probability 3.501585e-5 exactly, which the bound over cut sets reaches to seven digits", () => {
    const names = Object.keys(probability);
    let exact = 0;
    for (let bits = 0; bits < 2 ** names.length; bits += 1) {
      const happens = (name: string): boolean => ((bits >> names.indexOf(name)) & 1) === 1;
      const resolve = (name: string) => ({ timeline: constantTimeline(0, 1, happens(name) ? ON : OFF), barriers: [] });
      if (stateAt(truthOf(top, resolve), 0) === ON) exact += names.reduce((product, name) => product * (happens(name) ? probability[name]! : 1 - probability[name]!), 1);
    }
    expect(exact).toBeCloseTo(3.501585e-5, 11);
    expect(anyOfShares(setShares)).toBeCloseTo(exact, 11);
    expect(anyOfShares(setShares)).toBeGreaterThanOrEqual(exact);
  });

  test("is kept from the top event by the dual: {T, K2, S} or {T, K2, S1, K1, R} silent (R)", () => {
    expect(silencingSets(structureOf(top), 5).sets.map((set) => set.map(({ name }) => name).sort().join(" "))).toEqual(["K2 S T", "K1 K2 R S1 T"]);
  });
});
