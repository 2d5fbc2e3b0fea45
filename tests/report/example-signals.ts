import { kappaEstimate } from "../../src/statistics/kappa.js";
import { quantileEstimate } from "../../src/statistics/quantile.js";
import { rateEstimate } from "../../src/statistics/rate.js";
import { shareEstimate } from "../../src/statistics/share.js";
import { wilsonEstimate } from "../../src/statistics/wilson.js";
import type { SignalScore } from "../../src/result/signals.js";

const CONFIDENCE = 0.95;
const MONTHS = 31 / 30;

interface Sketch {
  readonly signal: string;
  readonly subject: string;
  readonly subjectClass: SignalScore["subjectClass"];
  readonly kind: string;
  readonly model?: string;
  readonly shares: readonly string[];
  /** Share of time agreeing: in all, given on, given off; and the looks behind them. */
  readonly agreed: readonly [number, number, number];
  readonly looks: number;
  readonly reference: number;
  readonly missed: number;
  readonly phantom: number;
  readonly fragmented: number;
  /** Lags in seconds, evenly spread from the first to the second. */
  readonly lags: readonly [number, number];
  readonly known: number;
  readonly silences: number;
  readonly restarts: number;
  readonly flaps: number;
  readonly witnesses: readonly string[];
  readonly siblings: readonly { readonly signal: string; readonly table: readonly (readonly number[])[]; readonly sharedCauses: readonly string[] }[];
}

const sketches: readonly Sketch[] = [
  {
    signal: "bay-1-overhead", subject: "bay-1", subjectClass: "bay", kind: "distance", model: "ultrasonic, roof beam", shares: ["board-a", "hub"],
    agreed: [0.9987, 0.9981, 0.9992], looks: 168, reference: 84, missed: 0, phantom: 1, fragmented: 2, lags: [4, 31], known: 0.994, silences: 2, restarts: 2, flaps: 1,
    witnesses: ["bay-1-wall", "yard-door-rail", "phone-mira"],
    siblings: [{ signal: "bay-1-wall", table: [[82, 2], [1, 83]], sharedCauses: ["board-a", "hub"] }],
  },
  {
    signal: "bay-1-wall", subject: "bay-1", subjectClass: "bay", kind: "distance", model: "ultrasonic, side wall", shares: ["board-a", "hub"],
    agreed: [0.9312, 0.8877, 0.9741], looks: 160, reference: 84, missed: 7, phantom: 9, fragmented: 5, lags: [6, 88], known: 0.961, silences: 11, restarts: 2, flaps: 14,
    witnesses: ["bay-1-overhead", "yard-door-rail", "phone-mira"],
    siblings: [{ signal: "bay-1-overhead", table: [[82, 1], [2, 83]], sharedCauses: ["board-a", "hub"] }],
  },
  {
    signal: "bay-2-overhead", subject: "bay-2", subjectClass: "bay", kind: "distance", model: "ultrasonic, roof beam", shares: ["board-b", "hub"],
    agreed: [0.9942, 0.993, 0.9951], looks: 80, reference: 40, missed: 1, phantom: 0, fragmented: 0, lags: [5, 40], known: 0.992, silences: 2, restarts: 2, flaps: 0,
    witnesses: ["yard-door-rail", "phone-tom"], siblings: [],
  },
  {
    signal: "yard-door-rail", subject: "yard-door", subjectClass: "door", kind: "contact", shares: ["board-a", "hub"],
    agreed: [0.9978, 0.9904, 0.9989], looks: 236, reference: 118, missed: 2, phantom: 0, fragmented: 1, lags: [0.2, 2.4], known: 0.994, silences: 2, restarts: 2, flaps: 3,
    witnesses: ["yard-door-leaf", "bay-1-overhead"],
    siblings: [{ signal: "yard-door-leaf", table: [[116, 2], [1, 117]], sharedCauses: ["board-a", "hub"] }],
  },
  {
    signal: "yard-door-leaf", subject: "yard-door", subjectClass: "door", kind: "contact", shares: ["board-a", "hub"],
    agreed: [0.9969, 0.9891, 0.9983], looks: 236, reference: 118, missed: 0, phantom: 2, fragmented: 0, lags: [-1.1, 3.8], known: 0.994, silences: 2, restarts: 2, flaps: 2,
    witnesses: ["yard-door-rail", "bay-1-overhead"],
    siblings: [{ signal: "yard-door-rail", table: [[116, 1], [2, 117]], sharedCauses: ["board-a", "hub"] }],
  },
  {
    signal: "phone-mira", subject: "mira", subjectClass: "person", kind: "phone", shares: ["mira-phone", "hub"],
    agreed: [0.9745, 0.981, 0.968], looks: 192, reference: 96, missed: 3, phantom: 5, fragmented: 1, lags: [20, 410], known: 0.948, silences: 9, restarts: 2, flaps: 6,
    witnesses: ["bay-1-overhead", "yard-door-rail"], siblings: [],
  },
  {
    signal: "phone-tom", subject: "tom", subjectClass: "person", kind: "phone", shares: ["tom-phone", "hub"],
    agreed: [0.8571, 0.7424, 0.931], looks: 80, reference: 40, missed: 11, phantom: 2, fragmented: 4, lags: [45, 1290], known: 0.803, silences: 27, restarts: 2, flaps: 19,
    witnesses: ["bay-2-overhead"], siblings: [],
  },
];

const spread = ([first, last]: readonly [number, number], count: number): number[] =>
  Array.from({ length: count }, (_, index) => first + ((last - first) * index) / Math.max(1, count - 1));

function lagsOf(ends: readonly [number, number], count: number): SignalScore["lagOn"] {
  const values = spread(ends, count);
  const at = (p: number) => quantileEstimate(values, p, CONFIDENCE, "seconds");
  return { median: at(0.5), p90: at(0.9), p95: at(0.95) };
}

function scored(sketch: Sketch): SignalScore {
  const { reference, missed, phantom, fragmented, known } = sketch;
  const [all, on, off] = sketch.agreed;
  const matched = reference - missed;
  const hours = 744 * known;
  return {
    signal: sketch.signal,
    subject: sketch.subject,
    subjectClass: sketch.subjectClass,
    kind: sketch.kind,
    source: sketch.kind === "phone" ? "phones" : "board-log",
    model: sketch.model ?? null,
    firmware: null,
    shares: [...sketch.shares],
    readings: sketch.kind === "distance" ? 44_211 : reference * 2 + 31,
    judgedAgainst: { hours: { diary: 9, several: hours - 61, one: 52, none: 744 - hours }, jointHours: { charged: hours, disputed: 0 }, witnesses: [...sketch.witnesses] },
    agreement: wilsonEstimate(all, sketch.looks, CONFIDENCE),
    agreementGivenOn: wilsonEstimate(on, sketch.looks / 2, CONFIDENCE),
    agreementGivenOff: wilsonEstimate(off, sketch.looks / 2, CONFIDENCE),
    transitions: { reference, matched, judged: reference, missed, phantom, fragmented },
    eventCategories: {
      hours: { trueOn: hours / 2, trueOff: hours / 2 - 1, insertion: phantom * 0.1, deletion: missed * 2, fragmentation: fragmented * 0.2, merge: 0, overfillStart: 0, overfillEnd: 0.3, underfillStart: 0.2, underfillEnd: 0 },
      reference: { correct: Math.floor(matched / 2) - fragmented, deleted: Math.ceil(missed / 2), fragmented, merged: 0, fragmentedAndMerged: 0 },
      signal: { correct: Math.floor(matched / 2) - fragmented, inserted: phantom, fragmenting: 2 * fragmented, merging: 0, fragmentingAndMerging: 0 },
    },
    missedShare: shareEstimate(missed, reference, CONFIDENCE),
    phantomRate: rateEstimate(phantom, MONTHS * known, CONFIDENCE, "per 30 days"),
    lagOn: lagsOf(sketch.lags, matched / 2),
    lagOff: lagsOf([sketch.lags[0] * 1.4, sketch.lags[1] * 1.2], matched / 2),
    knownShare: known,
    silences: { count: sketch.silences, hours: 744 - hours, longestHours: (744 - hours) / Math.max(1, sketch.silences / 2) },
    restarts: sketch.restarts,
    flaps: sketch.flaps,
    siblings: sketch.siblings.map(({ signal, table, sharedCauses }) => {
      const [[both = 0, b = 0] = [], [c = 0, neither = 0] = []] = table;
      return { signal, agreement: wilsonEstimate((both + neither) / (both + b + c + neither), both + b + c + neither, CONFIDENCE), kappa: kappaEstimate(table, CONFIDENCE), sharedCauses: [...sharedCauses] };
    }),
  };
}

const nothing = (unit: string, why: string): SignalScore["agreement"] => ({ value: null, low: null, high: null, count: 0, unit, why });

/** A signal that nobody else can speak about: every figure is missing, with its reason. */
const unjudged: SignalScore = {
  ...scored({ ...sketches[2]!, signal: "bay-2-floor", kind: "flag", known: 0.41, silences: 3, siblings: [], witnesses: [] }),
  model: "pressure mat",
  firmware: "2.1",
  shares: [],
  source: "mat-log",
  readings: 36,
  judgedAgainst: { hours: { diary: 0, several: 0, one: 0, none: 744 }, jointHours: { charged: 0, disputed: 0 }, witnesses: [] },
  agreement: nothing("share", "no other witness spoke while it did"),
  agreementGivenOn: nothing("share", "no other witness spoke while it did"),
  agreementGivenOff: nothing("share", "no other witness spoke while it did"),
  transitions: { reference: 0, matched: 0, judged: 0, missed: 0, phantom: 0, fragmented: 0 },
  missedShare: nothing("share", "nothing was counted"),
  phantomRate: nothing("per 30 days", "no time was observed"),
  lagOn: { median: nothing("seconds", "no lags"), p90: nothing("seconds", "no lags"), p95: nothing("seconds", "no lags") },
  lagOff: { median: nothing("seconds", "no lags"), p90: nothing("seconds", "no lags"), p95: nothing("seconds", "no lags") },
};

/** Eight signals: seven judged, one that nobody could judge. */
export const exampleSignals: SignalScore[] = [...sketches.map(scored), unjudged];
