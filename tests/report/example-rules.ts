import { limitClaims } from "../../src/judge/design/claims.js";
import { ruleFigures, type Tally } from "../../src/judge/evidence/figures.js";
import { exampleCutSets, exampleMargin } from "./example-margin.js";
import { exampleClosedDesign, exampleLockGap, exampleRoads } from "./example-roads.js";
import { exampleDrills, exampleHostile, exampleTuning } from "./example-trials.js";
import type { Firing, Moment, RuleFinding } from "../../src/result/rules.js";

const CONFIDENCE = 0.95;
const YEARS = 31 / 365.25;

type State = "on" | "off" | "unknown";
type Wanted = RuleFinding["wantedList"][number];

/** Steps written as `minutes after the start: state`. */
const lane = (from: number, role: "signal" | "reference" | "rule", label: string, steps: Readonly<Record<string, State>>): Moment["lanes"][number] => ({
  label,
  role,
  steps: Object.entries(steps)
    .map(([minutes, state]) => [Number(minutes), state] as const)
    .sort(([a], [b]) => a - b)
    .map(([minutes, state]) => [minutesAfter(from, minutes), state]),
});

const minutesAfter = (from: number, minutes: number): number => from + minutes * 60_000;

interface Tale {
  readonly id: string;
  readonly at: number;
  readonly outcome: "wrong" | "unverified";
  readonly looks: Firing["looks"];
  readonly why: string;
  readonly wantedAt?: number;
  readonly vouchers?: readonly string[];
  readonly lanes: (from: number) => Moment["lanes"];
}

/** The firing comes ten minutes into an excerpt of twenty. */
function told(tale: Tale): { firing: Firing; moment: Moment } {
  const from = minutesAfter(tale.at, -10);
  const wantedAt = tale.wantedAt ?? null;
  return {
    firing: {
      id: tale.id,
      at: tale.at,
      outcome: tale.outcome,
      looks: tale.looks,
      why: tale.why,
      wrongByOwnWords: false,
      wantedAt,
      delaySeconds: wantedAt === null ? null : (tale.at - wantedAt) / 1000,
      vouchers: [...(tale.vouchers ?? [])],
      supported: null,
      culprit: null,
    },
    moment: { firing: tale.id, from, to: minutesAfter(from, 20), lanes: tale.lanes(from) },
  };
}

const arrivalTales = [
  told({
    id: "unlock on arrival/2026-10-09T13:12:40.000Z", at: Date.parse("2026-10-09T13:12:40.000Z"), outcome: "wrong", looks: "wrong",
    why: "Wrong: mira here (not so); tom here (not so). So says the diary.", vouchers: ["diary"],
    lanes: (from) => [
      lane(from, "signal", "bay-1-overhead", { 0: "off", 9.1: "on", 15.6: "off" }),
      lane(from, "signal", "bay-1-wall", { 0: "off", 9.4: "on", 10.9: "off", 11.2: "on", 15.4: "off" }),
      lane(from, "signal", "yard-door-rail", { 0: "off", 4.3: "on", 16.2: "off" }),
      lane(from, "signal", "phone-mira", { 0: "off", 10: "on", 12.5: "off" }),
      lane(from, "rule", "unlock on arrival", { 0: "off", 10: "on", 11.1: "off" }),
      lane(from, "reference", "mira", { 0: "off" }),
      lane(from, "reference", "bay-1", { 0: "off", 9: "on", 15.5: "off" }),
    ],
  }),
  told({
    id: "unlock on arrival/2026-10-17T06:02:11.000Z", at: Date.parse("2026-10-17T06:02:11.000Z"), outcome: "wrong", looks: "unclear",
    why: "Wrong: mira here (not so); tom here (not so). So say bay-2-overhead, phone-tom. Note: bay-2-overhead shares hub with the rule's own signals.", vouchers: ["bay-2-overhead", "phone-tom"],
    lanes: (from) => [
      lane(from, "signal", "bay-1-overhead", { 0: "off", 2.2: "unknown", 8.4: "off", 9.8: "on" }),
      lane(from, "signal", "bay-1-wall", { 0: "off", 2.2: "unknown", 8.4: "on" }),
      lane(from, "signal", "yard-door-rail", { 0: "on", 2.2: "unknown", 8.4: "on" }),
      lane(from, "signal", "phone-mira", { 0: "off", 2.2: "unknown", 8.6: "off", 10: "on" }),
      lane(from, "rule", "unlock on arrival", { 0: "off", 2.2: "unknown", 8.4: "off", 10: "on", 11.8: "off" }),
      lane(from, "reference", "mira", { 0: "off" }),
      lane(from, "reference", "bay-1", { 0: "off", 13.2: "unknown" }),
    ],
  }),
  told({
    id: "unlock on arrival/2026-10-25T00:41:05.000Z", at: Date.parse("2026-10-25T00:41:05.000Z"), outcome: "wrong", looks: "wrong",
    why: "Wrong: tom here (not so); mira here (not so). So says the diary.", vouchers: ["diary"],
    lanes: (from) => [
      lane(from, "signal", "bay-1-overhead", { 0: "on", 9.2: "off", 9.7: "on" }),
      lane(from, "signal", "bay-1-wall", { 0: "on" }),
      lane(from, "signal", "yard-door-rail", { 0: "off", 7.5: "on", 8: "off", 8.4: "on" }),
      lane(from, "signal", "phone-mira", { 0: "on", 3: "off", 10: "on" }),
      lane(from, "rule", "unlock on arrival", { 0: "off", 10: "on", 12: "off" }),
      lane(from, "reference", "mira", { 0: "on", 2.7: "off" }),
      lane(from, "reference", "bay-1", { 0: "on" }),
    ],
  }),
  told({
    id: "unlock on arrival/2026-10-21T17:20:00.000Z", at: Date.parse("2026-10-21T17:20:00.000Z"), outcome: "unverified", looks: "right", wantedAt: Date.parse("2026-10-21T17:18:48.000Z"),
    why: "No witness outside the rule and no diary can tell. With the rule's own signals counted in it looks right: mira here.",
    lanes: (from) => [
      lane(from, "signal", "bay-1-overhead", { 0: "off", 8.7: "on" }),
      lane(from, "signal", "bay-1-wall", { 0: "off", 8.9: "on" }),
      lane(from, "signal", "yard-door-rail", { 0: "off", 7.2: "on", 12.4: "off" }),
      lane(from, "signal", "phone-mira", { 0: "unknown", 10: "on" }),
      lane(from, "rule", "unlock on arrival", { 0: "off", 10: "on", 10.7: "off" }),
      lane(from, "reference", "mira", { 0: "unknown" }),
      lane(from, "reference", "bay-1", { 0: "off", 8.8: "on" }),
    ],
  }),
];

const vanTales = [4, 12, 19, 27].map((day) =>
  told({
    id: `unlock when the van is back/${day}`, at: Date.parse(`2026-10-${String(day).padStart(2, "0")}T15:${10 + day}:00.000Z`), outcome: "unverified", looks: "right", wantedAt: Date.parse(`2026-10-${String(day).padStart(2, "0")}T15:${9 + day}:22.000Z`),
    why: "No witness outside the rule and no diary can tell. With the rule's own signals counted in it looks right: tom here.",
    lanes: (from) => [
      lane(from, "signal", "bay-2-overhead", { 0: "off", 9.8: "on" }),
      lane(from, "signal", "phone-tom", { 0: "off", 3.5: "unknown", 6: "off", 8: "on" }),
      lane(from, "rule", "unlock when the van is back", { 0: "off", 3.5: "unknown", 6: "off", 10: "on", 12: "off" }),
      lane(from, "reference", "tom", { 0: "off", 9.4: "unknown" }),
    ],
  }),
);

const rightFirings = (rule: string, count: number): Firing[] =>
  Array.from({ length: count }, (_, index) => {
    const at = minutesAfter(Date.parse("2026-10-01T06:40:00.000Z"), index * 520);
    return { id: `${rule}/right-${index}`, at, outcome: "right", looks: "right", why: "Right: mira here. So says bay-2-overhead.", wrongByOwnWords: false, wantedAt: minutesAfter(at, -0.5), delaySeconds: 30, vouchers: ["bay-2-overhead"], supported: null, culprit: null };
  });

const late = (at: number, seconds: number, why: string): Wanted => ({ at, outcome: "late", verified: true, firing: null, delaySeconds: seconds, why, culprit: null });
const missed = (at: number, verified: boolean, why: string): Wanted => ({ at, outcome: "missed", verified, firing: null, delaySeconds: null, why, culprit: null });

interface Plan {
  readonly name: string;
  readonly act: RuleFinding["act"];
  readonly verdict: RuleFinding["verdict"];
  readonly sentence: string;
  readonly condition: string;
  readonly rightWhen: string;
  readonly signals: readonly string[];
  readonly tales: readonly ReturnType<typeof told>[];
  readonly right: number;
  readonly wantedCount: number;
  readonly unserved: readonly Wanted[];
  readonly limit: number;
  readonly blindShare: number;
  readonly single: RuleFinding["singlePoints"];
  readonly roads?: Partial<Pick<RuleFinding, "design" | "gap" | "twoEvents" | "claims">>;
  readonly reasons: (numbers: { wrongUpper: number; wrongLower: number; missedUpper: number }) => RuleFinding["reasons"];
}

const MISSED_LIMIT = 0.1;

/** The figures the program would work out from the plan's counts, on 31 days that were seen nearly whole. */
function figuresOf(plan: Plan, wrong: number, unverified: number): Pick<RuleFinding, "firings" | "wanted" | "wrongPerYear" | "missedShare" | "bounds" | "delay" | "evidence"> {
  const count = (outcome: Wanted["outcome"]): number => plan.unserved.filter((wanted) => wanted.outcome === outcome).length;
  const verifiedFailed = plan.unserved.filter((wanted) => wanted.verified).length;
  const tally: Tally = {
    firings: { count: plan.right + wrong + unverified, right: plan.right, wrong, unverified },
    wanted: { count: plan.wantedCount, served: plan.wantedCount - plan.unserved.length, late: count("late"), missed: count("missed"), verified: plan.wantedCount - unverified, verifiedFailed },
    yearsSeen: YEARS * (1 - plan.blindShare),
    blindShare: plan.blindShare,
    unclearShare: 0.042,
    unclearDaysShare: 0,
    covers: {
      days: 31, months: ["2026-10"], weekdays: [4, 4, 4, 5, 5, 5, 4],
      wrongOccasions: Array.from({ length: wrong }, () => 1), failureRuns: Array.from({ length: verifiedFailed }, () => 1), faultsByDay: [2, 1, 1], variants: 1,
      confirmedHours: new Array<number>(24).fill(30), expectedUnverified: { firings: unverified, wanted: unverified },
      checked: [{ firings: plan.right + wrong + unverified, drawn: 0, wrongDrawn: 0, wrong, unverified }],
    },
  };
  const delays = Array.from({ length: plan.wantedCount - plan.unserved.length }, (_, index) => 12 + index * 1.3);
  const limits = { wrongPerYear: plan.limit, missedShare: MISSED_LIMIT, withinMs: 120_000 };
  // Findings are plain data that may be changed; figures are not.
  return structuredClone(ruleFigures(tally, delays, { act: plan.act, limits, confidence: CONFIDENCE }));
}

function judged(plan: Plan): RuleFinding {
  const firings = plan.tales.map((tale) => tale.firing);
  const wrong = firings.filter((firing) => firing.outcome === "wrong").length;
  const unverified = firings.length - wrong;
  const figures = figuresOf(plan, wrong, unverified);
  const { wrongUpper, wrongLower, missedUpper } = figures.bounds;
  return {
    name: plan.name,
    act: plan.act,
    digest: "5d1f0c3a97b2e864",
    verdict: plan.verdict,
    sentence: plan.sentence,
    reasons: plan.reasons({ wrongUpper: wrongUpper ?? Infinity, wrongLower, missedUpper }),
    condition: plan.condition,
    rightWhen: plan.rightWhen,
    signals: [...plan.signals],
    ...figures,
    cumulated: null,
    design: null,
    gap: null,
    twoEvents: [],
    claims: limitClaims(figures, null, null, { act: plan.act, limits: { wrongPerYear: plan.limit, missedShare: MISSED_LIMIT, withinMs: 120_000 }, confidence: CONFIDENCE }),
    ...plan.roads,
    singlePoints: plan.single,
    margin: exampleMargin,
    drills: exampleDrills,
    hostile: plan.act === "unlock" ? exampleHostile : [],
    tuning: exampleTuning,
    cutSets: exampleCutSets,
    firingList: [...firings, ...rightFirings(plan.name, plan.right)].sort((a, b) => (a.at < b.at ? -1 : 1)),
    wantedList: [...plan.unserved],
    moments: plan.tales.map((tale) => tale.moment),
  };
}

/** Three rules, one of each verdict. */
export const exampleRules: RuleFinding[] = [
  judged({
    name: "unlock on arrival", act: "unlock", verdict: "do not enable",
    sentence: "It would have unlocked wrongly 3 times in 31 days, and board-a alone can make it fire.",
    condition: "(bay-1-overhead turned occupied within 2 min, or bay-1-wall turned occupied within 2 min) and yard-door-rail is open and phone-mira turned here within 10 min",
    rightWhen: "some person turned here within 2 min before or after", signals: ["bay-1-overhead", "bay-1-wall", "phone-mira", "yard-door-rail"],
    tales: arrivalTales, right: 77, wantedCount: 82, limit: 0.5, blindShare: 0.062,
    unserved: [
      late(Date.parse("2026-10-06T16:31:20.000Z"), 412, "phone-mira turned here within 10 min (not so) until 412 s later."),
      missed(Date.parse("2026-10-13T07:55:02.000Z"), true, "bay-1-overhead turned occupied within 2 min (unknown); yard-door-rail is open (unknown)."),
      missed(Date.parse("2026-10-29T21:14:45.000Z"), false, "phone-mira turned here within 10 min (not so)."),
    ],
    single: { signals: ["phone-mira"], causes: ["board-a"] },
    reasons: (numbers) => [
      { code: "wrong-lower-bound", effect: "breaks", text: "Even the lower bound of wrong unlocks a year is over the limit.", measured: numbers.wrongLower, limit: 0.5, unit: "per year" },
      { code: "wrong-upper-bound", effect: "open", text: "Wrong unlocks a year may be as many as this, unverified ones taken as wrong.", measured: numbers.wrongUpper, limit: 0.5, unit: "per year" },
      { code: "missed-upper-bound", effect: "clears", text: "At most this share of arrivals is missed or served late.", measured: numbers.missedUpper, limit: MISSED_LIMIT, unit: "share" },
      { code: "single-cause", effect: "breaks", text: "board-a alone, by lying, makes the rule fire.", measured: 1, limit: 0, unit: "causes" },
      { code: "single-signal", effect: "breaks", text: "phone-mira alone, by lying, makes the rule fire while the door stands open.", measured: 1, limit: 0, unit: "signals" },
    ],
  }),
  judged({
    name: "unlock when the van is back", act: "unlock", verdict: "not proven yet",
    sentence: "Nothing went wrong for certain, but one month cannot show half a wrong unlock a year, and 4 firings have no witness.",
    condition: "bay-2-overhead turned occupied within 2 min and phone-tom is here", rightWhen: "some person turned here within 2 min before or after", signals: ["bay-2-overhead", "phone-tom"],
    tales: vanTales, right: 26, wantedCount: 40, limit: 0.5, blindShare: 0.197,
    unserved: [
      ...[2, 8, 15].map((day) => late(Date.parse(`2026-10-${String(day).padStart(2, "0")}T18:05:00.000Z`), 200 + day * 31, "phone-tom is here (unknown) at first.")),
      ...[5, 9, 16, 18, 22, 23, 30].map((day) => missed(Date.parse(`2026-10-${String(day).padStart(2, "0")}T17:40:00.000Z`), day !== 22, "phone-tom is here (not so); it had been silent for hours.")),
    ],
    single: { signals: [], causes: ["hub"] },
    roads: exampleRoads,
    reasons: (numbers) => [
      { code: "wrong-upper-bound", effect: "open", text: "Wrong unlocks a year may be as many as this, unverified ones taken as wrong.", measured: numbers.wrongUpper, limit: 0.5, unit: "per year" },
      { code: "missed-upper-bound", effect: "open", text: "The share of arrivals missed may be as large as this.", measured: numbers.missedUpper, limit: MISSED_LIMIT, unit: "share" },
      { code: "blind-time", effect: "open", text: "For this share of the time the rule could not have fired, because a signal was unknown.", measured: 0.197, limit: null, unit: "share" },
    ],
  }),
  judged({
    name: "lock when all have left", act: "lock", verdict: "clear to enable",
    sentence: "No wrong lock in 62 firings, none without a witness, and no single signal or shared cause can make it fire.",
    condition: "every bay is empty and every door is closed and every person is away, held for 5 min", rightWhen: "every person is away", signals: ["bay-1-overhead", "bay-1-wall", "bay-2-overhead", "phone-mira", "phone-tom", "yard-door-leaf", "yard-door-rail"],
    tales: [], right: 62, wantedCount: 62, unserved: [], limit: 40, blindShare: 0.048, single: { signals: [], causes: [] },
    roads: { design: exampleClosedDesign, gap: exampleLockGap },
    reasons: (numbers) => [
      { code: "wrong-upper-bound", effect: "clears", text: "At most this many wrong locks a year.", measured: numbers.wrongUpper, limit: 40, unit: "per year" },
      { code: "missed-upper-bound", effect: "clears", text: "At most this share of departures is missed or served late.", measured: numbers.missedUpper, limit: MISSED_LIMIT, unit: "share" },
    ],
  }),
];
