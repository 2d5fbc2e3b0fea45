import type { RuleFinding } from "../../src/result/schema.js";

/** A van at home with the door open: only the phone, whose owner is away, stands in the way. */
const exampleExcerpt: NonNullable<RuleFinding["margin"]["nearMisses"][number]["excerpt"]> = {
  from: Date.parse("2026-10-04T08:57:00.000Z"),
  to: Date.parse("2026-10-04T11:50:30.000Z"),
  lanes: [
    { label: "bay-1-wall", role: "signal", steps: [[Date.parse("2026-10-04T08:57:00.000Z"), "off"], [Date.parse("2026-10-04T09:12:00.000Z"), "on"]] },
    { label: "phone-mira", role: "signal", steps: [[Date.parse("2026-10-04T08:57:00.000Z"), "off"], [Date.parse("2026-10-04T10:30:00.000Z"), "unknown"], [Date.parse("2026-10-04T10:52:00.000Z"), "off"]] },
    { label: "yard-door-rail", role: "signal", steps: [[Date.parse("2026-10-04T08:57:00.000Z"), "on"], [Date.parse("2026-10-04T11:40:30.000Z"), "off"]] },
    { label: "mira", role: "reference", steps: [[Date.parse("2026-10-04T08:57:00.000Z"), "off"]] },
    { label: "unlock on arrival", role: "rule", steps: [[Date.parse("2026-10-04T08:57:00.000Z"), "off"]] },
  ],
};

/** How close an example rule came: most of the month two signals away, 41 hours one signal away. */
export const exampleMargin: RuleFinding["margin"] = {
  exact: true,
  hoursAt: [[0, 2.6], [1, 41.2], [2, 388.4], [3, 311.8]],
  hoursAtWhileWrong: [[0, 0.3], [1, 33.5], [2, 301.1], [3, 210.9]],
  nearMisses: [
    { from: Date.parse("2026-10-04T09:12:00.000Z"), to: Date.parse("2026-10-04T11:40:30.000Z"), inTheWay: ["phone-mira"], why: "It would have fired had it read: phone-mira turned here within 10 min.", verified: true, excerpt: exampleExcerpt },
    { from: Date.parse("2026-10-19T20:02:10.000Z"), to: Date.parse("2026-10-19T20:03:00.000Z"), inTheWay: ["bay-1-wall", "phone-mira"], why: "It would have fired had it read: bay-1-wall turned occupied within 2 min; or phone-mira turned here within 10 min.", verified: false, excerpt: null },
  ],
};

const unknown = { value: null, high: null, why: "not known how often these lie: phone-mira" };

/** Cut sets of an example rule: by structure it takes two, in practice often one. */
export const exampleCutSets: RuleFinding["cutSets"] = {
  firing: {
    upToSize: 4,
    count: 2,
    sets: [
      { signals: ["phone-mira"], causes: ["board-a"], text: "board-a and phone-mira together" },
      { signals: ["bay-1-wall", "phone-mira", "yard-door-rail"], causes: [], text: "bay-1-wall, phone-mira and yard-door-rail together" },
    ],
  },
  failing: { upToSize: 4, count: 1, sets: [{ signals: ["phone-mira"], causes: [], text: "phone-mira alone" }] },
  inPractice: {
    wrongHours: 545.8,
    upToSize: 2,
    count: 2,
    sets: [
      { signals: ["phone-mira"], causes: [], text: "phone-mira alone", share: 0.0614, hoursPerMonth: 32.4, expectedPerYear: unknown },
      { signals: [], causes: ["board-a"], text: "board-a alone", share: 0.021, hoursPerMonth: 11.1, expectedPerYear: { value: 0.26, high: 0.81, why: null } },
    ],
    expectedPerYear: { independent: unknown, withSharedCauses: unknown },
  },
  expectedMissedShare: { independent: { value: 0.02, high: 0.07, why: null }, withSharedCauses: { value: 0.023, high: 0.081, why: null } },
  beta: 0.1,
  assumes: "Signals are taken to lie independently of one another, save for their shared causes.",
};
