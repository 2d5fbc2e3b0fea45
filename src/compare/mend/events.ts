import type { Interval } from "../../ground/intervals.js";
import { DAYS_PER_YEAR, MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import type { Culprit } from "../../result/culprit.js";
import type { Findings } from "../../result/findings.js";
import type { RuleFinding } from "../../result/rules.js";
import type { ClockFault } from "../../truth/clocks/faults.js";

/** What the list is made from. `restarts`: outages of shared causes, by the signal that they silenced. */
export interface MendInput
  extends Pick<Findings, "site" | "period" | "signals" | "disagreements" | "bands" | "changes" | "phantoms" | "rules"> {
  readonly clockFaults: readonly ClockFault[];
  readonly restarts: ReadonlyMap<string, readonly { readonly from: number; readonly to: number; readonly cause: string }[]>;
  /** Whether a signal with the band that is advised would have said the opposite of what it said then. */
  readonly bandWouldMend: (signal: string, stretch: Interval) => boolean;
}

/** What a thing to mend can do to a rule; see the schema of the list. */
export type Harm = "wrong" | "maybeWrong" | "failed" | "unjudged" | "nearly" | "expected";

/** Something that went wrong with a rule, and what it is put down to. */
export interface MendEvent {
  readonly rule: RuleFinding;
  readonly harm: Harm;
  /** How often; 1 for a single instant. */
  readonly times: number;
  /** When; null for what has no single instant. */
  readonly at: number | null;
  readonly owner: Owner;
  /** Null where no condition of the rule is to blame. */
  readonly culprit: Culprit | null;
}

/** A clock, shared cause, signal, or a bay in which something stood; the key of a pair is its signals with a comma. */
export interface Owner {
  readonly sort: "clock" | "cause" | "signal" | "pair" | "subject";
  readonly key: string;
}

/** One event, without an instant and without a culprit unless they are given. */
function eventOf(rule: RuleFinding, harm: Harm, owner: Owner, more: Partial<Pick<MendEvent, "times" | "at" | "culprit">>): MendEvent {
  return { rule, harm, owner, times: 1, at: null, culprit: null, ...more };
}

/** What a sensor did, as against a rule that asks too much or too little: only this is mended at a sensor. */
const SENSORS_FAULT: readonly Culprit["what"][] = ["said the opposite", "silent", "already so", "came back", "too late"];
/** What a clock that is off may look like besides. */
const CLOCKS_FAULT: readonly Culprit["what"][] = [
  "said the opposite", "already so", "came back", "too late", "window ended", "held too long", "no longer so",
];
/** A firing this close to the beginning of a false report may be its doing. Our own choice. */
const NEAR_MS = 10 * MINUTE_MS;
/** One late report is no fault: a sensor is blamed from this many wanted instants that it only told late. Our own choice. */
const LEAST_LATE = 3;

/** Wrong firings and failed wanted instants of every rule that a clock, a shared cause or a sensor is to blame for. */
export function blamedEvents(input: MendInput): MendEvent[] {
  return input.rules.flatMap((rule): MendEvent[] => {
    const blocked = input.clockFaults.filter((fault) => fault.blocked.includes(rule.name));
    // Against a clock too far off nobody can tell who was wrong, nor how often.
    if (blocked.length > 0) {
      return blocked.map(({ target }) => eventOf(rule, "unjudged", { sort: "clock", key: target }, { times: rule.firings.count }));
    }
    const told = [
      ...rule.firingList.map(({ at, culprit }) => ({ at, culprit, harm: "wrong" as const })),
      ...rule.wantedList.map(({ at, culprit }) => ({ at, culprit, harm: "failed" as const })),
    ];
    const events = told.flatMap(({ at, culprit, harm }): MendEvent[] => {
      const owner = culprit === null ? null : ownerOf(culprit, at, rule, input);
      return owner === null ? [] : [eventOf(rule, harm, owner, { at, culprit })];
    });
    return events.filter((one) => !isSeldomLate(one, events));
  });
}

function ownerOf(culprit: Culprit, at: number, rule: RuleFinding, input: MendInput): Owner | null {
  if (culprit.signal === null) return null;
  const clock = input.clockFaults.find((fault) => fault.rules.includes(rule.name) && isClocks(culprit, fault));
  if (clock !== undefined) return { sort: "clock", key: clock.target };
  if (!SENSORS_FAULT.includes(culprit.what)) return null;
  const cause = causeOf(culprit, at, input);
  if (cause !== null) return { sort: "cause", key: cause };
  const [own] = saidTogether(culprit, input);
  return own === undefined ? { sort: "signal", key: culprit.signal } : { sort: "subject", key: own.subject };
}

/** Two false reports are of one thing if they have this share of the one in question in common. Our own choice. */
const IN_COMMON = 0.5;

/**
 * The false reports that said at the same time what a culprit said falsely of a bay: that something stood in it, by sensors that share no cause with it.
 * Sensors of two kinds that see the same are not broken: another vehicle stood there, or the diary is wrong. None where it was alone.
 */
export function saidTogether({ signal, what, from, to }: Culprit, { phantoms, site }: Pick<MendInput, "phantoms" | "site">): MendInput["phantoms"] {
  if (what !== "said the opposite" || signal === null || from === null || to === null) return [];
  const own = phantoms.find((one) => one.signal === signal && one.said === "on" && one.from < to && one.to > from);
  if (own === undefined || site.subjects.find(({ id }) => id === own.subject)?.class !== "bay") return [];
  const sharing = site.sharedCauses.filter(({ signals }) => signals.includes(signal)).flatMap(({ signals }) => signals);
  return phantoms.filter(
    (one) => one.signal !== signal && one.subject === own.subject && one.said === "on" && !sharing.includes(one.signal) && Math.min(one.to, to) - Math.max(one.from, from) >= IN_COMMON * (to - from),
  );
}

/** Whether a clock may be all that was wrong: a report that was false, or late, by no more than the clocks are apart. */
function isClocks({ what, from, to, bySeconds }: Culprit, { reachMs }: ClockFault): boolean {
  const lasted = from !== null && to !== null ? to - from : (bySeconds ?? 0) * SECOND_MS;
  return CLOCKS_FAULT.includes(what) && lasted <= reachMs;
}

/** The shared cause that was down when the false report began, or that all signals share which were wrong at once; null where it was one sensor. */
function causeOf({ signal, signals, from }: Culprit, at: number, { site, restarts }: MendInput): string | null {
  if (signal === null) return null;
  const began = from ?? at;
  const down = (restarts.get(signal) ?? []).find((one) => one.from < began + NEAR_MS && one.to > began - NEAR_MS);
  if (down !== undefined) return down.cause;
  if (signals.length === 0) return null;
  return site.sharedCauses.find((one) => [signal, ...signals].every((each) => one.signals.includes(each)))?.cause ?? null;
}

function isSeldomLate({ harm, culprit, owner }: MendEvent, events: readonly MendEvent[]): boolean {
  if (harm !== "failed" || culprit?.what !== "too late" || owner.sort !== "signal") return false;
  return events.filter((one) => one.harm === harm && one.culprit?.what === "too late" && one.owner.key === owner.key).length < LEAST_LATE;
}

/** Unverified firings in a false report of a signal, which may be its doing. */
export function doubtfulEvents(input: MendInput): MendEvent[] {
  return input.rules.flatMap((rule) => {
    const unverified = rule.firingList.filter(({ outcome }) => outcome === "unverified");
    return rule.signals.flatMap((signal) => {
      const clocksReachMs = Math.max(0, ...input.clockFaults.filter(({ rules }) => rules.includes(rule.name)).map(({ reachMs }) => reachMs));
      const falseReports = input.phantoms.filter((one) => one.signal === signal && one.to - one.from > clocksReachMs);
      return unverified
        .filter(({ at }) => falseReports.some(({ from }) => at >= from && at - from <= NEAR_MS))
        .map(({ at }) => eventOf(rule, "maybeWrong", { sort: "signal", key: signal }, { at }));
    });
  });
}

/** Unverified firings while two signals of the rule said opposite things, and nobody could tell which was wrong. */
export function pairEvents({ rules, disagreements }: MendInput): MendEvent[] {
  return disagreements.flatMap(({ list, pairs }) =>
    pairs.flatMap(({ signals: [one, other] }) => {
      const apart = list.filter(({ saidOn, saidOff, reference }) => {
        const differ = (saidOn.includes(one) && saidOff.includes(other)) || (saidOn.includes(other) && saidOff.includes(one));
        return differ && reference === "unknown";
      });
      return rules
        .filter(({ signals }) => signals.includes(one) || signals.includes(other))
        .flatMap((rule) =>
          rule.firingList
            .filter(({ at, outcome }) => outcome === "unverified" && apart.some(({ from, to }) => at >= from && at <= to + NEAR_MS))
            .map(({ at }) => eventOf(rule, "maybeWrong", { sort: "pair", key: `${one}, ${other}` }, { at })),
        );
    }),
  );
}

/** Silences of signals that keep a rule from being judged: it was deaf for so much of the time that no verdict is possible. */
export function silenceEvents({ rules, signals, site }: MendInput): MendEvent[] {
  return rules.flatMap((rule) => {
    if (!rule.reasons.some(({ code, effect }) => code === "blind-time" && (effect === "open" || effect === "breaks"))) return [];
    const { blindShare } = rule.evidence;
    const deaf = signals.filter(({ signal, knownShare }) => rule.signals.includes(signal) && 1 - knownShare >= blindShare / 2);
    const sharedBy = (members: readonly string[]): number => deaf.filter(({ signal }) => members.includes(signal)).length;
    const owners = deaf.map(({ signal }): Owner => {
      const cause = site.sharedCauses.find((one) => one.signals.includes(signal) && sharedBy(one.signals) > 1);
      return cause === undefined ? { sort: "signal", key: signal } : { sort: "cause", key: cause.cause };
    });
    const times = Math.max(1, Math.round(rule.firings.count * blindShare));
    const distinct = new Map(owners.map((owner) => [`${owner.sort} ${owner.key}`, owner]));
    return [...distinct.values()].map((owner) => eventOf(rule, "unjudged", owner, { times }));
  });
}

/** Times at which one signal alone kept a rule from acting wrongly, as another of its signals said the wrong thing. */
export function nearEvents(input: MendInput): MendEvent[] {
  const { rules, clockFaults } = input;
  const lies = liesOf(input);
  return rules.flatMap((rule) => {
    if (clockFaults.some((fault) => fault.rules.includes(rule.name))) return [];
    const close = rule.margin.nearMisses.filter(({ inTheWay, verified }) => verified && inTheWay.length === 1);
    return rule.signals.flatMap((signal) => {
      const own = lies.filter((lie) => lie.signal === signal);
      return close
        .filter(({ from, to, inTheWay }) => {
          const lied = own.some((lie) => lie.from < to && lie.to > from && Math.abs(lie.from - from) <= NEAR_MS);
          return lied && !inTheWay.includes(signal);
        })
        .map(({ from }) => eventOf(rule, "nearly", { sort: "signal", key: signal }, { at: from }));
    });
  });
}

/** False reports that are charged to a signal, and those that others contradict for longer than a lag may be. */
function liesOf({ phantoms, disagreements, site }: MendInput): { readonly signal: string; readonly from: number; readonly to: number }[] {
  const long = disagreements.flatMap(({ list }) => list.filter(({ from, to }) => to - from > site.settings.joinMs));
  return [...phantoms, ...long.flatMap(({ from, to, againstReference }) => againstReference.map((signal) => ({ signal, from, to })))];
}

/**
 * Wrong firings to be expected of a signal that alone suffices for one, by how often it lies: where this is more than
 * the user accepts, and luck has kept it from happening so far.
 */
export function expectedEvents(input: MendInput): MendEvent[] {
  const { rules, period, clockFaults } = input;
  return rules.flatMap((rule) => {
    const { limit } = rule.wrongPerYear;
    if (limit === null || clockFaults.some((fault) => fault.rules.includes(rule.name))) return [];
    const seen = blamedEvents({ ...input, rules: [rule] }).filter(({ harm }) => harm === "wrong");
    const blamed = new Set(seen.map(({ owner }) => owner.key));
    return rule.cutSets.inPractice.sets.flatMap(({ signals: [signal, ...others], causes, expectedPerYear: { value } }): MendEvent[] => {
      if (signal === undefined || others.length + causes.length > 0 || value === null || value <= limit || blamed.has(signal)) return [];
      return [eventOf(rule, "expected", { sort: "signal", key: signal }, { times: (value * period.days) / DAYS_PER_YEAR })];
    });
  });
}
