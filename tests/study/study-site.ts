import type { SignalAccount } from "../../src/truth/signals/account.js";
import type { SignalSpec, Site, Subject } from "../../src/site/site.js";
import { timelineOf } from "../../src/timeline/make.js";
import type { Timeline, TruthState } from "../../src/timeline/timeline.js";
import type { Interval } from "../../src/ground/intervals.js";

export const MONTH: Interval = { from: 0, to: 30 * 86_400_000 };
const MINUTE = 60_000;

/** One cell of the study. */
export interface StudyCase {
  readonly witnesses: number;
  /** The first two witnesses stand on one board, which makes {@link SHARED_PART} of their errors common ones. */
  readonly shared: boolean;
  /** Probability that a witness misreads a whole true stretch. */
  readonly errorShare: number;
  /** The first two are one sensor under two names, of which the site file says nothing: every error is common. They change in the same second, or each with its own lag. */
  readonly twins?: "same second" | "own lags";
  /** Whether a door moves at (nearly) every transition, and sometimes without one. */
  readonly door: boolean;
}

/** Of the errors of two witnesses with a common board, this share hits both. */
export const SHARED_PART = 0.6;

/** One simulated month: the site, what its signals say, and the truth. */
export interface StudyMonth {
  readonly site: Site;
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  readonly truth: Timeline;
}

/** The public-domain generator mulberry32: a seed in, numbers in [0, 1) out. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/**
 * A month of one bay: about four transitions a day, no stretch shorter than half an hour. Each witness misreads a true stretch as a whole with
 * `errorShare`, and sees a transition 5 to 35 s late. The door, where there is one, moves at 95 % of transitions within two minutes, and four times
 * a day besides.
 */
export function simulateMonth(given: StudyCase, random: () => number): StudyMonth {
  const starts = [0];
  for (;;) {
    const next = starts.at(-1)! + 30 * MINUTE - Math.log(1 - random()) * 330 * MINUTE;
    if (next >= MONTH.to - 30 * MINUTE) break;
    starts.push(Math.round(next));
  }
  const states = starts.map((_, k) => (k % 2) as TruthState);
  const sharedPart = given.twins === undefined ? SHARED_PART : 1;
  const board = starts.map(() => random() < given.errorShare * sharedPart);
  // So that each of the two still errs with errorShare in all.
  const ownShare = (given.errorShare * (1 - sharedPart)) / (1 - given.errorShare * sharedPart);
  const signals: SignalSpec[] = [];
  const lines: Timeline[] = [];
  for (let w = 0; w < given.witnesses; w += 1) {
    const onBoard = (given.shared || given.twins !== undefined) && w < 2;
    const wrong = starts.map((_, k) => (onBoard ? board[k]! || random() < ownShare : random() < given.errorShare));
    const lag = (): number => 5_000 + random() * 30_000;
    const own = timelineOf(MONTH.from, MONTH.to, starts.map((at, k) => [k === 0 ? at : Math.round(at + lag()), (wrong[k]! ? 1 - states[k]! : states[k]!) as TruthState]));
    lines.push(given.twins === "same second" && w === 1 ? lines[0]! : own);
    signals.push(specOf(`w${w}`, "bay", onBoard && given.shared ? ["board"] : []));
  }
  if (given.door) {
    const passages = [
      ...starts.slice(1).flatMap((at) => (random() < 0.95 ? [at + Math.round((random() - 0.5) * 4 * MINUTE)] : [])),
      ...Array.from({ length: 120 }, () => Math.round(random() * (MONTH.to - 5 * MINUTE))),
    ].sort((a, b) => a - b);
    const apart = passages.filter((at, i) => i === 0 || at - passages[i - 1]! > MINUTE);
    lines.push(timelineOf(MONTH.from, MONTH.to, [[0, 0], ...apart.filter((at) => at > 0).flatMap((at): [number, TruthState][] => [[at, 1], [at + 20_000, 0]])]));
    signals.push(specOf("door", "gate", []));
  }
  const subjects: Subject[] = [{ id: "bay", class: "bay", vehicle: null }, ...(given.door ? [{ id: "gate", class: "door" as const, vehicle: null }] : [])];
  return {
    site: siteOf(subjects, signals),
    accounts: new Map(signals.map(({ id }, i) => [id, { signal: id, account: lines[i]!, live: lines[i]!, silences: [], restarts: [], readingCount: 1, flapCount: 0 }])),
    truth: timelineOf(MONTH.from, MONTH.to, starts.map((at, k) => [at, states[k]!])),
  };
}

function specOf(id: string, subject: string, shares: readonly string[]): SignalSpec {
  const bare = { id, subject, source: "log", kind: "flag", channel: id, reading: { form: "words", on: ["1"], off: ["0"] }, band: null, settleMs: 0, expectMs: null, shares, model: null };
  // The study uses none of the fields that only exports need.
  return bare as unknown as SignalSpec;
}

function siteOf(subjects: readonly Subject[], signals: readonly SignalSpec[]): Site {
  const bare = { name: "study", file: "", folder: "", timeZone: "UTC", sources: [], subjects, signals, rules: [], confidence: 0.95, limits: {}, diary: [], bridgeMs: 60_000, joinMs: 600_000, restartMs: 10_000 };
  return bare;
}
