import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { atomAt, criticalAges } from "../../../src/judge/gap/atom-at.js";
import { isAtom } from "../../../src/judge/rule/condition.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { ON, type TruthState } from "../../../src/timeline/timeline.js";
import { min, truthOf } from "../small-site.js";
import { expressions } from "../drills/arbitrary.js";

const atoms = expressions(["a"]).filter(isAtom);
const courses = fc.record({ first: fc.constantFrom(0 as const, 1 as const), changes: fc.uniqueArray(fc.integer({ min: -40, max: 10 }), { maxLength: 3 }).map((minutes) => minutes.sort((a, b) => a - b).map(min)) });

describe("an atom over a short course", () => {
  it("holds exactly when the timeline operators say so", () => {
    fc.assert(
      fc.property(atoms, courses, fc.integer({ min: -80, max: 40 }), (atom, course, half) => {
        const steps = course.changes.map((at, i) => [at, (i % 2 === 0 ? 1 - course.first : course.first) as TruthState] as const);
        const timeline = timelineOf(min(-200), min(200), [[min(-200), course.first], ...steps]);
        const truth = truthOf(atom, () => ({ timeline, barriers: [] }));
        for (const instant of [half * 30_000, half * 30_000 - 1]) expect(atomAt(atom, course, instant)).toBe(stateAt(truth, instant) === ON);
      }),
      { numRuns: 400 },
    );
  });

  it("changes only when a change has one of its critical ages", () => {
    fc.assert(
      fc.property(atoms, courses, fc.integer({ min: -80, max: 40 }), (atom, course, half) => {
        const instant = half * 30_000;
        if (atomAt(atom, course, instant) === atomAt(atom, course, instant - 1)) return;
        expect(course.changes.map((at) => instant - at).some((age) => criticalAges(atom).includes(age))).toBe(true);
      }),
      { numRuns: 400 },
    );
  });
});
