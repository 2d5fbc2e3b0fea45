/* eslint-disable @typescript-eslint/no-non-null-assertion --
   votes are lists by witness and by segment, as laid out; segments of a reference cover the whole period, and loops
   over changes stay below their number */
import type { Interval } from "../../ground/intervals.js";
import { remembered } from "../../ground/remembered.js";
import { firstAtOrAfter } from "../../ground/search.js";
import type { DiaryEntry, Readings } from "../../intake/readings.js";
import { unpackedReadings } from "../../intake/unpack.js";
import type { Site } from "../../site/site.js";
import {
  byState,
  keepsToGrid,
  type ReadAt,
  readTogether,
  steadyChance,
  steadyLag,
  type SteadyLag,
  steadyText,
  type TurnsByState,
} from "../../statistics/steady-lag.js";
import { binomialTail, overlapTail } from "../../statistics/tails.js";
import { stateAt } from "../../timeline/state-at.js";
import { type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import { diaryTimeline } from "./diary.js";
import { layOut, type Layout } from "./layout.js";
import { CLUSTER_MS } from "./priors.js";
import type { ReferenceBook } from "./reference.js";
import type { Witness } from "./witness.js";
import { lookUp } from "../../ground/look-up.js";

/** What one test found about a pair of signals: how likely chance alone brings as much, and what to say about it. */
export interface PairFound {
  readonly how: "turns" | "errors" | "silences";
  readonly chance: number;
  /** A predicate with numbers, such as "went silent together 4 times". */
  readonly text: string;
}

/**
 * Fewer coincidences than this count for nothing: one or two may have a cause that never comes again. Our own choice.
 */
const LEAST_TOGETHER = 3;

/** Signs in the instants of turns: a lag that never varies, or one that varies at true turns only. */
export function turnTogether(readings?: ReadonlyMap<string, Readings>): (one: Witness, other: Witness, thirds: readonly Witness[]) => PairFound[] {
  const turnsOf = remembered(tellingTurns);
  return (one, other, thirds) => {
    const windowMs = Math.min(CLUSTER_MS[one.class], CLUSTER_MS[other.class]);
    const [mine, theirs] = [turnsOf(one), turnsOf(other)];
    if (mine === null || theirs === null) return [];
    const lag = steadyLag(mine, theirs, windowMs);
    const found = [...steadyThroughout(lag), ...(one.subject === other.subject ? steadyWhenDenied(lag, thirds, windowMs) : [])];
    return found.length > 0 && readings !== undefined && askedTogether(one, other, readings) ? [] : found;
  };
}

function steadyThroughout(lag: SteadyLag): PairFound[] {
  const chance = steadyChance(lag);
  return chance === null ? [] : [{ how: "turns", chance, text: steadyText(lag) }];
}

/**
 * If a third witness turns as well, something truly happened, and each sensor sees it in its own time. If every third
 * stays as it is, either it missed the event (then the lag varies as usual) or one thing fooled both (then it does
 * not).
 */
function steadyWhenDenied({ pairs }: SteadyLag, thirds: readonly Witness[], windowMs: number): PairFound[] {
  if (thirds.length === 0) return [];
  const judged = pairs.flatMap(({ one, other, to, steady }) => {
    const answers = thirds.map((third) => answerOf(third, Math.min(one, other), Math.max(one, other), to, windowMs));
    return answers.includes("confirms") ? [{ denied: false, steady }] : answers.includes("denies") ? [{ denied: true, steady }] : [];
  });
  const count = (denied: boolean, steady: boolean): number => judged.filter((one) => one.denied === denied && one.steady === steady).length;
  const [together, apart] = [count(true, true), count(true, false)];
  if (together < LEAST_TOGETHER) return [];
  // As often as at true turns, with one more hit added.
  const usual = (count(false, true) + 1) / (count(false, true) + count(false, false) + 1);
  return [
    {
      how: "turns",
      chance: binomialTail(together, together + apart, usual),
      text: `changed at their usual lag, to the second, in ${together} of ${together + apart} changes that no other sensor saw, and in ${count(false, true)} of ${count(false, true) + count(false, false)} that another one saw`,
    },
  ];
}

function answerOf(
  { account, changes }: Witness,
  from: number,
  to: number,
  state: number,
  windowMs: number,
): "confirms" | "denies" | "silent" {
  for (let i = firstAtOrAfter(changes.at, from - windowMs); i < changes.at.length && changes.at[i]! <= to + windowMs; i += 1) {
    if (changes.to[i] === state) return "confirms";
  }
  return stateAt(account, to) === 1 - state ? "denies" : "silent";
}

/** The turns that were seen; null where they are few, or only tell when it was read. */
function tellingTurns({ changes }: Witness): TurnsByState | null {
  const seen = (_: number, i: number): boolean => changes.seen[i] === 1;
  const at = changes.at.filter(seen);
  return at.length < LEAST_TOGETHER || keepsToGrid(at) ? null : byState({ at, to: changes.to.filter(seen) });
}

/** Whether one recorder reads both at the same instants, turn or no turn. */
function askedTogether(one: Witness, other: Witness, readings: ReadonlyMap<string, Readings>): boolean {
  const of = ({ id, changes }: Witness): ReadAt => ({ readAt: unpackedReadings(readings.get(id) ?? { parts: [] }).times, turns: changes.at.length });
  return readTogether(of(one), of(other));
}

/**
 * Silences of unrelated things come closer together than evenly spread ones, by this factor: at night, or on the same
 * days. Our own choice.
 */
const CROWDED = 4;

/** When one signal went unknown, and how exactly that is known (milliseconds). */
interface Dark {
  readonly since: Float64Array;
  readonly toleranceMs: number;
}

/**
 * Signals that go unknown at the same time again and again. By chance, each beginning of one falls within a tolerance
 * of a beginning of the other with a known share; the chance of as many is a binomial tail. A signal that reports at
 * intervals went dark somewhere in one of them. What hits every signal of the site is the recorder's and says nothing
 * about two of them.
 */
export function silentTogether(
  witnesses: readonly Witness[],
  site: Pick<Site, "signals" | "restartMs">,
  period: Interval,
): (one: Witness, other: Witness) => PairFound[] {
  const expected = new Map(site.signals.map(({ id, expectMs }) => [id, expectMs ?? 0]));
  const darkOf = new Map<string, Dark>(
    witnesses.map(({ id, account }) => [id, { since: beginnings(account), toleranceMs: site.restartMs + lookUp(expected, id) }]),
  );
  const everyone = [...darkOf.values()];
  const isRecorder = (at: number): boolean => everyone.length > 2 && everyone.every((one) => isNear(one, at));
  const own = new Map(
    [...darkOf].map(([id, { since, toleranceMs }]) => [id, { since: since.filter((at) => !isRecorder(at)), toleranceMs }]),
  );
  return (one, other) => {
    const [mine, theirs] = [lookUp(own, one.id), lookUp(own, other.id)];
    const toleranceMs = Math.max(mine.toleranceMs, theirs.toleranceMs);
    const [few, many] = mine.since.length <= theirs.since.length ? [mine.since, theirs.since] : [theirs.since, mine.since];
    const theOther = { since: many, toleranceMs };
    const together = few.reduce((count, at) => count + Number(isNear(theOther, at)), 0);
    const share = Math.min(1, (CROWDED * 2 * toleranceMs * many.length) / (period.to - period.from));
    // No more than expected: as many or more come in half of all cases or oftener, and that need not be summed up.
    if (together < LEAST_TOGETHER || together <= Math.floor(few.length * share)) return [];
    return [
      {
        how: "silences",
        chance: binomialTail(together, few.length, share),
        text: `went silent together ${together} times (${mine.since.length} and ${theirs.since.length} times in all)`,
      },
    ];
  };
}

function beginnings({ times, states }: Timeline): Float64Array {
  return times.filter((_, i) => i > 0 && states[i] === UNKNOWN);
}

function isNear({ since, toleranceMs }: Dark, at: number): boolean {
  return (since[firstAtOrAfter(since, at - toleranceMs)] ?? Infinity) <= at + toleranceMs;
}

/** A subject's history in segments, with the votes of all witnesses. */
interface Votes {
  readonly layout: Layout;
  readonly middles: readonly number[];
  readonly witnesses: readonly Witness[];
}

/**
 * Two of one subject that contradict the reference without both of them at the same time. This is tested only where two
 * other groups or the diary vouch: a single third may be the one that is wrong. An error counts where it begins, so
 * that two that are stuck for days are each wrong once. The chance of as many common beginnings is a hypergeometric
 * tail; added are the times at which the others are wrong together themselves: as often as half their disagreements,
 * squared.
 */
export function wrongTogether(
  witnesses: readonly Witness[],
  diary: readonly DiaryEntry[],
  book: ReferenceBook,
  period: Interval,
): (one: string, other: string) => PairFound[] {
  const remembered = new Map<string, Votes>();
  const votesOn = ({ subject, class: subjectClass }: Witness): Votes => {
    const known = remembered.get(subject);
    if (known !== undefined) return known;
    const own = witnesses.filter((one) => one.subject === subject);
    const layout = layOut(own, diaryTimeline(diary, subject, period), period, CLUSTER_MS[subjectClass]);
    const starts = [period.from, ...layout.boundaries.map(({ instant }) => instant)];
    const made = { layout, middles: starts.map((from, k) => (from + (starts[k + 1] ?? period.to)) / 2), witnesses: own };
    remembered.set(subject, made);
    return made;
  };
  const written = new Set(diary.map((entry) => entry.subject));
  const byId = new Map(witnesses.map((one) => [one.id, one]));
  return (oneId, otherId) => {
    const [one, other] = [lookUp(byId, oneId), lookUp(byId, otherId)];
    if (one.subject !== other.subject) return [];
    const votes = votesOn(one);
    const others = votes.witnesses.flatMap((third, w) =>
      third.group === one.group || third.group === other.group ? [] : [{ group: third.group, votes: votes.layout.votes[w]! }],
    );
    if (new Set(others.map(({ group }) => group)).size < 2 && !written.has(one.subject)) return [];
    const out = votes.witnesses.filter((third) => third.group === one.group || third.group === other.group).map(({ id }) => id);
    return commonErrors(
      votes,
      one,
      other,
      others.map((third) => third.votes),
      book(one.subject, out),
    );
  };
}

function commonErrors(
  { layout, middles, witnesses }: Votes,
  one: Witness,
  other: Witness,
  others: readonly Uint8Array[],
  reference: ReturnType<ReferenceBook>,
): PairFound[] {
  const [mine, theirs] = [layout.votes[witnesses.indexOf(one)]!, layout.votes[witnesses.indexOf(other)]!];
  const count = { judged: 0, mine: 0, theirs: 0, both: 0, vouched: 0, split: 0 };
  let [mineBefore, theirsBefore] = [false, false];
  let place = 0;
  middles.forEach((middle, k) => {
    while (reference.segments[place]!.to <= middle) place += 1;
    const { state, basis } = reference.segments[place]!;
    const said = others.map((votes) => votes[k]!).filter((vote) => vote !== UNKNOWN);
    if (basis !== "diary" && said.length >= 2) {
      count.vouched += 1;
      if (said.some((vote) => vote !== said[0])) count.split += 1;
    }
    if ((basis !== "several" && basis !== "diary") || mine[k] === UNKNOWN || theirs[k] === UNKNOWN) return;
    const [wrong, theirsWrong] = [mine[k] !== state, theirs[k] !== state];
    count.judged += 1;
    if (wrong && !mineBefore) count.mine += 1;
    if (theirsWrong && !theirsBefore) count.theirs += 1;
    if (wrong && theirsWrong && !mineBefore && !theirsBefore) count.both += 1;
    [mineBefore, theirsBefore] = [wrong, theirsWrong];
  });
  if (count.both < LEAST_TOGETHER) return [];
  // Half a split more than was seen: none seen does not mean none.
  const eachWrong = count.vouched === 0 ? 0 : (count.split + 0.5) / count.vouched / 2;
  const chance = overlapTail(count.both, count.judged, count.mine, count.theirs, count.vouched * eachWrong * eachWrong);
  return [{ how: "errors", chance, text: `were wrong together ${count.both} times (${count.mine} and ${count.theirs} times in all)` }];
}
