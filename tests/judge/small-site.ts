import { overHistory, type RuleOverHistory } from "../../src/judge/replay/replay.js";
import { claimTree } from "../../src/judge/rule/claims.js";
import { evaluateParts, timelineOfPart, type Resolve } from "../../src/judge/rule/evaluate.js";
import { prepareRule } from "../../src/judge/rule/prepare.js";
import type { Structure } from "../../src/judge/fooled/lying-sets.js";
import { causeGroups } from "../../src/site/cause-groups.js";
import type { Basis, Reference, ReferenceBook, ReferenceSegment } from "../../src/truth/reference/reference.js";
import type { Expression } from "../../src/site/expression.js";
import type { RuleSpec, SignalSpec, Site, SubjectClass } from "../../src/site/site.js";
import type { SignalAccount } from "../../src/truth/signals/account.js";
import { timelineOf } from "../../src/timeline/make.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "../../src/timeline/timeline.js";
import type { Interval } from "../../src/ground/intervals.js";

/** Small, invented sites for the tests of rules: instants are minutes, written `min(3)`. */
export const min = (minutes: number): number => minutes * 60_000;

/** One day, in which most of these tests happen. */
export const day: Interval = { from: 0, to: min(24 * 60) };

const letters: Readonly<Record<string, TruthState>> = { on: ON, off: OFF, "?": UNKNOWN };

/** `"0 off, 10 on, 12 ?"`: minutes and states over the period. */
export function line(text: string, period: Interval = day): Timeline {
  const steps = text
    .split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "")
    .map((part) => {
      const [minutes, word] = part.split(" ");
      const state = letters[word ?? ""];
      if (state === undefined) throw new RangeError(`No state: ${part}`);
      return [min(Number(minutes)), state] as const;
    });
  return timelineOf(period.from, period.to, steps);
}

/** Accounts whose live and told histories agree, by signal. */
export function accountsOf(histories: Readonly<Record<string, string | Timeline>>, restarts: SignalAccount["restarts"] = [], period: Interval = day): Map<string, SignalAccount> {
  return new Map(
    Object.entries(histories).map(([signal, history]) => {
      const timeline = typeof history === "string" ? line(history, period) : history;
      return [signal, { signal, account: timeline, live: timeline, silences: [], restarts, readingCount: timeline.times.length, flapCount: 0 }];
    }),
  );
}

/** What the stub book tells of a subject: `outside` is what is left when signals are left out (nothing by default). */
export interface Told {
  readonly truth: string | Timeline;
  readonly outside?: string | Timeline;
  readonly basis?: Basis;
  readonly vouchers?: readonly string[];
}

/** A reference book with fixed answers. */
export function bookOf(told: Readonly<Record<string, Told>>, period: Interval = day): ReferenceBook {
  return (subject, excluding): Reference => {
    // Of a subject that the test says nothing about, nobody knows anything.
    const one: Told = told[subject] ?? { truth: "" };
    const text = excluding.length === 0 ? one.truth : (one.outside ?? "");
    const timeline = typeof text === "string" ? line(text, period) : text;
    const segments = Array.from(timeline.times, (from, i): ReferenceSegment => {
      const state = timeline.states[i] as TruthState;
      const known = state !== UNKNOWN;
      return {
        from,
        to: timeline.times[i + 1] ?? timeline.end,
        state,
        probability: known ? 0.95 : 0.5,
        basis: known ? (one.basis ?? "several") : "none",
        vouchers: known ? (one.vouchers ?? [`${subject}-witness`]) : [],
      };
    });
    return { subject, excluding, timeline, segments };
  };
}

/** A site with the given subjects (id: class) and signals (id: subject), each signal sharing the given causes. */
export function siteOf(parts: {
  readonly subjects: Readonly<Record<string, SubjectClass>>;
  readonly signals?: Readonly<Record<string, string>>;
  readonly shares?: Readonly<Record<string, readonly string[]>>;
  readonly limits?: Site["limits"];
  readonly bridgeMs?: number;
}): Site {
  return {
    name: "Heron Lane",
    file: "site.yaml",
    folder: ".",
    timeZone: "Europe/London",
    sources: [],
    subjects: Object.entries(parts.subjects).map(([id, subjectClass]) => ({ id, class: subjectClass, vehicle: null })),
    signals: Object.entries(parts.signals ?? {}).map(([id, subject]): SignalSpec => ({
      id,
      subject,
      source: "board-log",
      kind: "flag",
      channel: null,
      reading: { form: "words", on: ["1"], off: ["0"] },
      band: null,
      settleMs: 0,
      expectMs: null,
      shares: parts.shares?.[id] ?? [],
      model: null,
    })),
    rules: [],
    confidence: 0.95,
    limits: parts.limits ?? {},
    diary: [],
    bridgeMs: parts.bridgeMs ?? 0,
    joinMs: min(10),
    restartMs: 5_000,
  };
}

/** A rule with a short name; unlock by default. */
export function ruleOf(when: Expression, rightWhen: Expression, more: Partial<RuleSpec> = {}): RuleSpec {
  return { name: "the rule", act: "unlock", when, rightWhen, rightWhenIsDefault: false, restMs: 0, line: null, ...more };
}

/** A rule over a history of its site, signals grouped by the causes that the site declares. */
export function over(site: Site, rule: RuleSpec, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook, period: Interval = day): RuleOverHistory {
  return overHistory(prepareRule(site, rule), { period, accounts, book, groups: causeGroups(site.signals) });
}

/** The truth of a condition over time. */
export function truthOf(condition: Expression, resolve: Resolve, bridgeMs = 0): Timeline {
  return timelineOfPart(condition, evaluateParts(condition, resolve, bridgeMs));
}

/** A bare condition, ready to be asked who could satisfy it by lying. */
export function structureOf(condition: Expression, causesOf: Structure["causesOf"] = () => []): Structure {
  return { claims: claimTree(condition), causesOf };
}

/** The atom `ref is on/off`, if wished for some time. */
export function is(ref: string, state: 0 | 1, more: { heldMs?: number; recentlyMs?: number } = {}): Expression {
  return { op: "is", ref, state, heldMs: more.heldMs ?? null, recentlyMs: more.recentlyMs ?? null };
}

/** The atom `ref turned on/off within so many minutes`. */
export function turned(ref: string, to: 0 | 1, withinMinutes: number): Expression {
  return { op: "turned", ref, to, withinMs: min(withinMinutes) };
}

export const allOf = (...of: Expression[]): Expression => ({ op: "all", of });
export const anyOf = (...of: Expression[]): Expression => ({ op: "any", of });
export const quorum = (count: number, ...of: Expression[]): Expression => ({ op: "atLeast", count, of });
export const no = (of: Expression): Expression => ({ op: "not", of });
