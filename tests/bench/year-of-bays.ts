import type { SignalAccount } from "../../src/truth/signals/account.js";
import type { Expression } from "../../src/site/expression.js";
import type { RuleSpec, SignalSpec, Site, Subject } from "../../src/site/site.js";
import { randomStream, type Random } from "../../src/simulate/random.js";
import { canonicalTimeline } from "../../src/timeline/make.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import type { Interval } from "../../src/ground/intervals.js";

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** Six bays with three signals each, two doors with two, four people with two: 30 signals on four boards and a hub. */
export interface YearOfBays {
  readonly site: Site;
  readonly rules: readonly RuleSpec[];
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  readonly period: Interval;
  /** Steps of all live histories together. */
  readonly steps: number;
}

/** The same year for the same seed: everybody comes and goes once or twice a day, sensors flicker, boards restart. */
export function makeYearOfBays(seed: number, days = 365): YearOfBays {
  const period = { from: 0, to: days * DAY_MS };
  const subjects: Subject[] = [
    ...range(6).map((i) => ({ id: `bay-${i}`, class: "bay" as const, vehicle: null })),
    ...range(2).map((i) => ({ id: `door-${i}`, class: "door" as const, vehicle: null })),
    ...range(4).map((i) => ({ id: `person-${i}`, class: "person" as const, vehicle: null })),
  ];
  const perSubject = { bay: 3, door: 2, person: 2 } as const;
  const signals = subjects.flatMap((subject, i) =>
    range(perSubject[subject.class]).map((k) => signal(`${subject.id}-${k}`, subject, subject.class === "person" ? ["hub"] : [`board-${(i + k) % 4}`])),
  );
  const random = randomStream(seed, "year of bays");
  const truths = comings(random, days, subjects);
  const outages = new Map(["hub", ...range(4).map((i) => `board-${i}`)].map((cause) => [cause, range(days / 7).map((week) => week * 7 * DAY_MS + random() * 6 * DAY_MS)]));
  const accounts = new Map(signals.map((one) => [one.id, accountOf(one, truths.get(one.subject)!, outages.get(one.shares[0]!)!, random, period)]));
  const site: Site = {
    name: "Year of bays", file: "site.yaml", folder: ".", timeZone: "UTC", sources: [], subjects, signals, rules: [], confidence: 0.95,
    limits: { unlock: { wrongPerYear: 0.5, missedShare: 0.1, withinMs: 2 * MINUTE_MS }, lock: { wrongPerYear: 2, missedShare: 0.1, withinMs: 15 * MINUTE_MS } },
    diary: [], bridgeMs: MINUTE_MS, joinMs: 10 * MINUTE_MS, restartMs: 10_000,
  };
  return { site, rules: rulesOf(subjects, signals), accounts, period, steps: [...accounts.values()].reduce((sum, { live }) => sum + live.times.length, 0) };
}

function range(count: number): number[] {
  return Array.from({ length: Math.floor(count) }, (_, i) => i);
}

function signal(id: string, subject: Subject, shares: string[]): SignalSpec {
  const kind = subject.class === "bay" ? "distance" : subject.class === "door" ? "contact" : "phone";
  return { id, subject: subject.id, source: "log", kind, channel: id, reading: { form: "words", on: ["1"], off: ["0"] }, band: null, settleMs: 0, expectMs: null, shares, model: null };
}

/**
 * For each subject the instants at which its true state changes, in turn: bays lose their vehicle in the morning and get it back, the
 * person of that number comes and goes with it, and some door opens for two minutes at each.
 */
function comings(random: Random, days: number, subjects: readonly Subject[]): Map<string, number[]> {
  const bays = range(6).map(() =>
    range(days).flatMap((day) => {
      const leaves = day * DAY_MS + (7 + 3 * random()) * 3_600_000;
      return [leaves, leaves + (1 + 8 * random()) * 3_600_000];
    }),
  );
  return new Map(
    subjects.map((subject) => {
      const i = Number(subject.id.split("-")[1]);
      if (subject.class === "bay") return [subject.id, bays[i]!];
      if (subject.class === "person") return [subject.id, bays[i]!.map((at) => at + MINUTE_MS)];
      const opened = range(3).flatMap((k) => bays[2 * k + i]!).sort((one, other) => one - other);
      // Two vehicles at once need the door open once.
      const apart = opened.filter((at, k) => k === 0 || at - opened[k - 1]! > 4 * MINUTE_MS);
      return [subject.id, apart.flatMap((at) => [at, at + 2 * MINUTE_MS])];
    }),
  );
}

function accountOf(spec: SignalSpec, changes: readonly number[], outages: readonly number[], random: Random, period: Interval): SignalAccount {
  const first = spec.kind === "contact" ? OFF : ON;
  const events: (readonly [number, 0 | 1 | 2])[] = [[0, first]];
  // A change is seen up to a minute late; one in fifty is followed by a flicker.
  changes.forEach((at, i) => {
    const state = (i % 2 === 0 ? 1 - first : first) as 0 | 1;
    const seen = at + random() * MINUTE_MS;
    events.push([seen, state]);
    if (random() < 0.02) events.push([seen + 5_000, (1 - state) as 0 | 1], [seen + 8_000, state]);
  });
  events.sort((a, b) => a[0] - b[0]);
  const restarts = outages.map((from) => ({ from, to: from + 3 * MINUTE_MS, cause: spec.shares[0]! }));
  const stateBefore = (instant: number): 0 | 1 | 2 => events.findLast(([at]) => at <= instant)?.[1] ?? UNKNOWN;
  const dark = restarts.flatMap(({ from, to }) => [[from, UNKNOWN], [to, stateBefore(to)]] as (readonly [number, 0 | 1 | 2])[]);
  const steps = [...events.filter(([at]) => !restarts.some(({ from, to }) => at >= from && at < to)), ...dark].sort((a, b) => a[0] - b[0]);
  const live = canonicalTimeline(
    period.from,
    period.to,
    steps.map(([at]) => at),
    steps.map(([, state]) => state),
  );
  return { signal: spec.id, account: live, live, silences: [], restarts, readingCount: events.length, flapCount: 0 };
}

function rulesOf(subjects: readonly Subject[], signals: readonly SignalSpec[]): RuleSpec[] {
  const of = (subjectClass: Subject["class"]): SignalSpec[] => signals.filter((one) => subjects.find(({ id }) => id === one.subject)?.class === subjectClass);
  const is = (ref: string, state: 0 | 1, times: { heldMs?: number; recentlyMs?: number } = {}): Expression => ({ op: "is", ref, state, heldMs: times.heldMs ?? null, recentlyMs: times.recentlyMs ?? null });
  const turned = (ref: string, withinMs: number): Expression => ({ op: "turned", ref, to: 1, withinMs });
  const bays = subjects.filter((subject) => subject.class === "bay").map(({ id }) => id);
  const people = subjects.filter((subject) => subject.class === "person").map(({ id }) => id);
  return [
    {
      name: "unlock on arrival", act: "unlock", restMs: 5 * MINUTE_MS, line: null, rightWhenIsDefault: false,
      when: {
        op: "all",
        of: [
          { op: "any", of: bays.map((bay) => ({ op: "all", of: [turned(`${bay}-0`, 2 * MINUTE_MS), { op: "atLeast", count: 2, of: [is(`${bay}-0`, 1), is(`${bay}-1`, 1), is(`${bay}-2`, 1)] }] })) },
          { op: "any", of: of("door").map(({ id }) => is(id, 1, { recentlyMs: 3 * MINUTE_MS })) },
          { op: "any", of: of("person").map(({ id }) => turned(id, 10 * MINUTE_MS)) },
        ],
      },
      rightWhen: { op: "any", of: people.map((person) => turned(person, 15 * MINUTE_MS)) },
    },
    {
      name: "lock when all have left", act: "lock", restMs: 10 * MINUTE_MS, line: null, rightWhenIsDefault: false,
      when: { op: "all", of: [...of("bay").map(({ id }) => is(id, 0)), ...of("door").map(({ id }) => is(id, 0)), ...of("person").map(({ id }) => is(id, 0, { heldMs: 5 * MINUTE_MS }))] },
      rightWhen: { op: "all", of: people.map((person) => is(person, 0)) },
    },
  ];
}
