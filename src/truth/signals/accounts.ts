import type { Readings } from "../../intake/readings.js";
import { unpackedReadings } from "../../intake/unpack.js";
import type { Band, DistanceRange, SignalSpec, Site } from "../../site/site.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { flapTimes, type SignalAccount } from "./account.js";
import { knownInstants } from "./known-instants.js";
import { BETWEEN, readingStates } from "./reading-states.js";
import { longGaps } from "./gaps.js";
import { withLostOffs } from "./lost-off.js";
import { type Hearing, type Quiet, quietsOf } from "./quiet.js";
import { restartsOf, returnOf, type Speaker } from "./restarts.js";
import { endedAfter, type Said, untilNext } from "./said.js";
import { settledSteps } from "./settle.js";
import { SILENCE_FACTOR, outagesOf, silencesOf } from "./silence.js";
import type { Interval } from "../../ground/intervals.js";
import { MINUTE_MS } from "../../ground/units.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { lookUp } from "../../ground/look-up.js";

/** One signal on its way from readings to account. */
interface Draft extends Speaker, Hearing {
  readonly spec: SignalSpec;
  /** Packed. Unpacked twice, for the outages and for the timelines, and never for two signals at a time. */
  readonly readings: Readings;
  readonly silences: readonly Interval[];
}

type SharedOutage = SignalAccount["restarts"][number];

/** What befell a signal together with others. */
interface Shared {
  readonly restarts: readonly SharedOutage[];
  /**
   * Until the signal's own next word: nobody knows what it missed. `atTheTime`: what a live system could have noticed,
   * until it would have believed the last word again.
   */
  readonly quiets: readonly (Interval & { readonly atTheTime: Interval })[];
}

/**
 * Every signal's account over `period`, keyed by signal id in the site file's order. Readings before the period give
 * the state at its start, and a silence that runs over the start counts; readings after it tell when the last silence
 * ended. A signal without a single reading (or without an entry in `readings`) is unknown throughout.
 *
 * `silences` and `restarts` are clipped to the period. Within a restart both `account` and `live` are unknown, and its
 * `to` is the signal's own return. `readingCount` and `flapCount` are of the period. With `settle`, a state holds one
 * settling time after the reading that ended an outage, so a timeline may stay unknown longer than its silence.
 *
 * A sibling can make a signal unknown (by a shared restart), but never on or off. `learntEmpty`: how an empty bay
 * reads, for distance signals whose site file does not say so. It affects `vote` alone. Linear in the number of
 * readings; sorts the outages.
 * @throws RangeError when a distance or position signal has no band, or the period is empty.
 */
export function signalAccounts(
  site: Site,
  readings: ReadonlyMap<string, Readings>,
  period: Interval,
  learntEmpty: LearntEmpty = new Map(),
): ReadonlyMap<string, SignalAccount> {
  return retellableAccounts(site, readings, period, learntEmpty).accounts;
}

/** Where the readings of an empty bay lie besides no echo, by signal. */
type LearntEmpty = ReadonlyMap<string, readonly DistanceRange[]>;

/**
 * Readings between the band and the empty readings must go on for at least this long (milliseconds) before the signal
 * is unknown: a vehicle that drives in passes through them in less. Our own choice.
 */
const BETWEEN_MS = MINUTE_MS;
/**
 * And for at least this many times `expect` of a periodic signal: one reading caught on the way is never enough. Our
 * own choice.
 */
const BETWEEN_EXPECTS = 1.5;

/** Every signal's account, and what it would be with another band. */
export interface RetellableAccounts {
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  /**
   * Stretches in which nothing was heard of a shared cause, a source or the whole site for much longer than at any
   * other time; at least partly within the period.
   */
  readonly quiets: readonly Quiet[];
  /**
   * The account of a distance or position signal with another band. A band decides between on and off only, never what
   * is unknown: silences and restarts stay, and no other signal's account changes.
   * @throws RangeError when the site has no such signal.
   */
  readonly withBand: (signal: string, band: Band) => SignalAccount;
}

/** As {@link signalAccounts}; it keeps the readings, so that single accounts can be made again with another band. */
export function retellableAccounts(
  site: Site,
  readings: ReadonlyMap<string, Readings>,
  period: Interval,
  learntEmpty: LearntEmpty = new Map(),
): RetellableAccounts {
  const drafts = site.signals.map((spec) => draftOf(spec, readings.get(spec.id), period.to));
  const quiets = quietsOf(
    drafts,
    drafts.reduce((last, { gaps }) => Math.max(last, gaps.at(-1)?.from ?? -Infinity), -Infinity),
  );
  const restarts = restartsBySignal(drafts, site.restartMs);
  const sharedBy = (draft: Draft): Shared => ({
    restarts: restarts.get(draft) ?? [],
    quiets: quiets
      .filter(({ signals }) => signals.includes(draft.spec.id))
      .map(({ from, to, noticedMs }) => ({
        from,
        to: draft.known.firstFrom(to),
        atTheTime: { from: from + noticedMs, to: returnOf(draft, { from, to, firstReturn: to }) },
      })),
  });
  return {
    quiets: quiets.filter(({ from, to }) => from < period.to && to > period.from),
    accounts: new Map(drafts.map((draft) => [draft.spec.id, accountOf(draft, sharedBy(draft), period, learntEmpty.get(draft.spec.id))])),
    withBand(signal, band) {
      const draft = drafts.find((one) => one.spec.id === signal);
      if (draft === undefined) throw new RangeError(`No signal of the site is called ${signal}.`);
      return accountOf({ ...draft, spec: { ...draft.spec, band } }, sharedBy(draft), period, learntEmpty.get(signal));
    },
  };
}

function draftOf(spec: SignalSpec, given: Readings | undefined, end: number): Draft {
  const readings = given ?? { signal: spec.id, parts: [] };
  const { times, states } = saidBy(spec, readings);
  return {
    spec,
    readings,
    expectMs: spec.expectMs,
    known: knownInstants(readings),
    silences: silencesOf(times, spec.expectMs, end),
    outages: outagesOf(times, states, spec.expectMs, end),
    gaps: longGaps(times),
    turnedIn: (stretch) => turnedIn(saidBy(spec, readings), stretch),
  };
}

/** Rarely asked, so the readings are unpacked each time. */
function turnedIn({ times, states }: Said, { from, to }: Interval): boolean {
  const said = new Set<number>();
  const before = times.findLastIndex((at) => at <= from);
  for (const state of states.subarray(Math.max(0, before), firstAtOrAfter(times, to))) said.add(state);
  return said.has(ON) && said.has(OFF);
}

function saidBy(spec: SignalSpec, readings: Readings): Said {
  const { times, values } = unpackedReadings(readings);
  return { times, states: readingStates(spec, values) };
}

function restartsBySignal(drafts: readonly Draft[], restartMs: number): Map<Draft, SharedOutage[]> {
  const bySignal = new Map<Draft, SharedOutage[]>(drafts.map((draft) => [draft, []]));
  for (const cause of new Set(drafts.flatMap((draft) => draft.spec.shares))) {
    const sharing = drafts.filter((draft) => draft.spec.shares.includes(cause));
    for (const restart of restartsOf(sharing, restartMs)) {
      for (const draft of sharing) lookUp(bySignal, draft).push({ from: restart.from, to: returnOf(draft, restart), cause });
    }
  }
  return bySignal;
}

function accountOf(
  draft: Draft,
  { restarts, quiets }: Shared,
  period: Interval,
  learntEmpty: readonly DistanceRange[] | undefined,
): SignalAccount {
  const noticed = SILENCE_FACTOR * (draft.expectMs ?? 0);
  const heard = saidBy(draft.spec, draft.readings);
  const said = lasting(heard, draft.spec.lastsMs);
  const silences = joined([...draft.silences, ...quiets]).map(({ from, to }) => ({ from, to }));
  const dark = joined([...silences, ...restarts]);
  const told = draft.spec.kind === "stir" ? withLostOffs(said) : said;
  const account = timelineOver(draft, told, dark, period, "afterwards");
  const unnoticedYet = [
    ...draft.silences.map(({ from, to }) => ({ from: from + noticed, to })),
    ...quiets.map(({ atTheTime }) => atTheTime).filter(({ from, to }) => from < to),
  ];
  const live =
    silences.length === 0 && told === said && !said.states.includes(BETWEEN)
      ? account
      : timelineOver(draft, said, joined([...unnoticedYet, ...restarts]), period, "at the time");
  if (draft.spec.kind === "stir") {
    return { ...accountOfStir(draft.spec.id, account), live, ...befell(heard, { silences, restarts }, period) };
  }
  const vote = voteOf(draft, said, dark, period, learntEmpty);
  return {
    signal: draft.spec.id,
    account,
    live,
    ...(vote === null ? {} : { vote }),
    ...befell(heard, { silences, restarts }, period),
    flapCount: flapTimes(account).length,
  };
}

function befell(
  { times }: Said,
  { silences, restarts }: { readonly silences: readonly Interval[]; readonly restarts: readonly SharedOutage[] },
  period: Interval,
): Pick<SignalAccount, "silences" | "restarts" | "readingCount"> {
  return {
    silences: clipped(silences, period),
    restarts: clipped(restarts, period).toSorted((a, b) => a.from - b.from),
    readingCount: countWithin(times, period),
  };
}

/** What it proves of the person: here while it stirs. It has no flaps, since nothing takes a stir back. */
function accountOfStir(signal: string, stirring: Timeline): Pick<SignalAccount, "signal" | "account" | "stirring" | "flapCount"> {
  const { start, end, times, states } = stirring;
  const proves = states.map((state) => (state === ON ? ON : UNKNOWN));
  return { signal, account: canonicalTimeline(start, end, times, proves), stirring, flapCount: 0 };
}

/** Each "on" ends `lastsMs` after it was last said, unless something else is said before. */
function lasting(said: Said, lastsMs: number | undefined): Said {
  return lastsMs === undefined ? said : endedAfter(said, (i) => said.states[i] === ON && untilNext(said, i) > lastsMs, lastsMs);
}

/** Null where the signal vouches for all that it says. */
function voteOf(
  draft: Draft,
  { times }: Said,
  dark: readonly Interval[],
  period: Interval,
  empty: readonly DistanceRange[] | undefined,
): Timeline | null {
  const { spec } = draft;
  if (empty === undefined || spec.band === null || spec.band.empty !== undefined) return null;
  const states = readingStates({ ...spec, band: { ...spec.band, empty } }, unpackedReadings(draft.readings).values);
  return states.includes(BETWEEN) ? timelineOver(draft, { times, states }, dark, period, "afterwards") : null;
}

function countWithin(times: Float64Array, period: Interval): number {
  let count = 0;
  for (const at of times) if (at >= period.from && at < period.to) count += 1;
  return count;
}

function timelineOver(draft: Draft, said: Said, dark: readonly Interval[], period: Interval, told: "afterwards" | "at the time"): Timeline {
  const { settleMs, expectMs } = draft.spec;
  const betweenMs = Math.max(BETWEEN_MS, settleMs, BETWEEN_EXPECTS * (expectMs ?? 0));
  const steps = settledSteps(said.times, said.states, dark, {
    settleMs,
    resumes: expectMs === null,
    betweenMs,
    backdates: told === "afterwards",
  });
  return canonicalTimeline(period.from, period.to, steps.times, steps.states);
}

/**
 * In order and disjoint. Unlike in a union, stretches that only touch stay apart: a reading came in between and must
 * settle again.
 */
function joined(intervals: readonly Interval[]): Interval[] {
  const out: Interval[] = [];
  for (const one of intervals.toSorted((a, b) => a.from - b.from)) {
    const last = out.at(-1);
    if (last === undefined || one.from >= last.to) out.push(one);
    else out[out.length - 1] = { from: last.from, to: Math.max(last.to, one.to) };
  }
  return out;
}

function clipped<Clippable extends Interval>(intervals: readonly Clippable[], period: Interval): Clippable[] {
  return intervals
    .filter((one) => one.from < period.to && one.to > period.from)
    .map((one) => ({ ...one, from: Math.max(one.from, period.from), to: Math.min(one.to, period.to) }));
}
