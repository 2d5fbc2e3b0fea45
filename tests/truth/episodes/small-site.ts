import type { Basis, Reference, ReferenceBook, ReferenceSegment } from "../../../src/truth/reference/reference.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import type { SignalSpec, Site, Subject, SubjectClass } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { Timeline, TruthState } from "../../../src/timeline/timeline.js";
import { UNKNOWN } from "../../../src/timeline/timeline.js";

/** Milliseconds in a minute: small invented histories are told in minutes. */
export const MINUTE = 60_000;

/** Steps told as `[minute, state]`. */
export type MinuteSteps = readonly (readonly [number, TruthState])[];

/** A timeline from minute 0 to `endMinute`. */
export function minutes(endMinute: number, steps: MinuteSteps): Timeline {
  return timelineOf(0, endMinute * MINUTE, steps.map(([minute, state]) => [minute * MINUTE, state] as const));
}

/** A subject by name and class. */
export function subject(id: string, subjectClass: SubjectClass): Subject {
  return { id, class: subjectClass, vehicle: subjectClass === "bay" ? `${id} van` : null };
}

/** A signal on a subject, with its shared causes. */
export function signal(id: string, on: string, shares: readonly string[] = []): SignalSpec {
  return { id, subject: on, source: "board-log", kind: "flag", channel: id, reading: { form: "words", on: ["1"], off: ["0"] }, band: null, settleMs: 0, expectMs: null, shares, model: null };
}

/** A site with the default ten minutes of joining and two of bridging, at 95 % confidence. */
export function siteWith(subjects: readonly Subject[], signals: readonly SignalSpec[]): Site {
  return {
    name: "Heron Lane", file: "site.yaml", folder: ".", timeZone: "UTC", sources: [], subjects, signals, rules: [],
    confidence: 0.95, limits: {}, diary: [], bridgeMs: 2 * MINUTE, joinMs: 10 * MINUTE, restartMs: 5_000,
  };
}

/** An account that is nothing but a timeline. */
export function accountOf(id: string, account: Timeline, extra: Partial<SignalAccount> = {}): SignalAccount {
  return { signal: id, account, live: account, silences: [], restarts: [], readingCount: account.times.length, flapCount: 0, ...extra };
}

/** Accounts by signal id. */
export function accountsOf(...accounts: readonly SignalAccount[]): Map<string, SignalAccount> {
  return new Map(accounts.map((account) => [account.signal, account]));
}

/** A reference that says what `timeline` says, one segment a step, all on one basis (none where unknown). */
export function referenceOf(about: string, timeline: Timeline, excluding: readonly string[] = [], basis: Basis = "several", vouchers: readonly string[] = []): Reference {
  const segments = Array.from(timeline.times, (from, i): ReferenceSegment => {
    const state = timeline.states[i] as TruthState;
    const known = state !== UNKNOWN;
    return { from, to: timeline.times[i + 1] ?? timeline.end, state, probability: known ? 0.99 : 0.5, basis: known ? basis : "none", vouchers: known ? vouchers : [] };
  });
  return { subject: about, excluding, timeline, segments };
}

/** A book that knows the truth of each subject whoever is left out; subjects it does not know throw. */
export function bookOf(truth: Readonly<Record<string, Timeline>>): ReferenceBook {
  return (about, excluding) => {
    const timeline = truth[about];
    if (timeline === undefined) throw new Error(`nothing is known of ${about}`);
    return referenceOf(about, timeline, excluding);
  };
}

/** A book with a fault of the program in it. */
export const brokenBook: ReferenceBook = () => {
  throw new TypeError("a slip");
};
