import type { DesignFigures, DesignRoad } from "../../src/result/design.js";
import type { GapFinding, TwoEventsFinding } from "../../src/result/gap.js";
import type { RuleFinding } from "../../src/result/rules.js";

type Roads = Pick<RuleFinding, "design" | "gap" | "twoEvents" | "claims">;

/** Figures of three months. */
export const exampleFigures: DesignFigures = {
  conditions: [
    { code: "months", holds: true, text: "92 days over 3 months were seen." },
    { code: "shared-days", holds: true, text: "False reports of the two parts do not fall on the same days more often than by chance." },
  ],
  bound: 0.4137, byChance: 0.3012, byCommonCause: 0.1125, slid: 0.0142, breakEven: 1 / 257.4, rarer: "vehicles", days: 92, months: 3, sharedDaysChance: 0.41,
};

const stretch = { day: 1, at: 30_000, seconds: 120, explained: false };

/** A road that is open, with a statement of the user's and a provoked test. */
export const exampleDesign: DesignRoad = {
  conditions: [
    { code: "parts", holds: true, text: "It takes a false report about a vehicle and one about a person at the same time." },
    { code: "cover", holds: true, text: "What makes it right lasts as long as its own windows (2 min) and the lag of its sensors (3 min) together." },
  ],
  commonShare: 0.02,
  commonShareBecause: "meters and phones share no power",
  noSharedHoursBecause: "the meters fail in the sun, the phones at night",
  tests: [{ cause: "board-a", made: 20, reachedBoth: 0, atMostShare: 0.1391 }],
  history: {
    counting: 1, days: "wweewwwwweewwwwweewwwwweewwwwwe", years: 0.08, homeShare: 0.6, trueTogether: 0,
    parts: [
      { name: "vehicles", signals: ["bay-2-overhead"], longestSeconds: 120, stretches: [stretch] },
      { name: "people", signals: ["phone-tom"], longestSeconds: 900, stretches: [stretch, { ...stretch, day: 2 }] },
    ],
  },
  figures: exampleFigures,
};

/** No gap, up to lags beyond the measured ones. */
export const exampleNoGap: GapFinding = {
  searched: true, why: null, scene: null,
  freeUntil: [
    { kind: "distance", signals: ["bay-2-overhead"], seconds: 1020, measuredSeconds: 34, ends: "gap" },
    { kind: "phone", signals: ["phone-tom"], seconds: null, measuredSeconds: 180, ends: "no-gap" },
  ],
};

/** The gap of a rule that locks. */
export const exampleLockGap: GapFinding = {
  searched: true, why: null,
  scene: { text: "Mira left 5 min ago; then comes back 4 min before it locks; phone-mira has not told yet.", changes: 2, widthSeconds: 270, perYear: 2.4 },
  freeUntil: [{ kind: "phone", signals: ["phone-mira", "phone-tom"], seconds: null, measuredSeconds: 524, ends: "gap-anyway" }],
};

/** Five firings that are right by two events, three days apart. */
export const exampleTwoEvents: TwoEventsFinding[] = [3, 6, 9, 12, 15].map((day) => ({
  at: Date.parse(`2026-10-${String(day).padStart(2, "0")}T16:20:00.000Z`),
  how: "another",
  sentence: `The rule went by phone-tom; what made it right is mira turned here within 2 min, for the ${day}th time.`,
  rightWhen: "{ some: people, turned: here, within: 1 min }",
}));

/** The roads of the rule that waits for the van: counting slow, design quick. */
export const exampleRoads: Roads = {
  design: exampleDesign,
  gap: exampleNoGap,
  twoEvents: exampleTwoEvents,
  claims: [
    { moreMonths: 0, byCounting: 125.67, byDesign: null },
    { moreMonths: 3, byCounting: 32.18, byDesign: 0.5524 },
    { moreMonths: 6, byCounting: 18.45, byDesign: 0.3182 },
    { moreMonths: 12, byCounting: 9.96, byDesign: 0.1727 },
    { moreMonths: 24, byCounting: 5.18, byDesign: 0.0898 },
  ],
};

/** A road closed by the rule's structure: nothing to reckon with. */
export const exampleClosedDesign: DesignRoad = {
  conditions: [{ code: "parts", holds: false, text: "Its condition about vehicles can stay true for hours." }],
  commonShare: 0.1, commonShareBecause: null, noSharedHoursBecause: null, tests: [], history: null, figures: null,
};
