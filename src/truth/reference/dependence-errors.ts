import type { DiaryEntry } from "../../intake/readings.js";
import { overlapTail } from "../../statistics/tails.js";
import { UNKNOWN } from "../../timeline/timeline.js";
import { diaryTimeline } from "./diary-timeline.js";
import { layOut, type Layout } from "./layout.js";
import { CLUSTER_MS } from "./priors.js";
import { LEAST_TOGETHER, type PairFound } from "./pair-found.js";
import type { ReferenceBook } from "./reference.js";
import type { Witness } from "./witness.js";
import type { Interval } from "../../ground/intervals.js";

/** A subject's history in segments, with everybody's votes. */
interface Votes {
  readonly layout: Layout;
  readonly middles: readonly number[];
  readonly witnesses: readonly Witness[];
}

/**
 * Two of one subject that contradict the reference without both of them at the same time. It is asked only where two groups besides
 * them or the diary vouch: a single third may be the one that is wrong. An error counts where it begins, so that two that are stuck for days are
 * each wrong once. The chance of as many common beginnings is a hypergeometric tail, with the times added at which the others
 * are wrong together themselves: as often as half their disagreements, squared.
 */
export function wrongTogether(witnesses: readonly Witness[], diary: readonly DiaryEntry[], book: ReferenceBook, period: Interval): (one: string, other: string) => PairFound[] {
  const remembered = new Map<string, Votes>();
  const votesOn = (subject: string): Votes => {
    const known = remembered.get(subject);
    if (known !== undefined) return known;
    const own = witnesses.filter((one) => one.subject === subject);
    const layout = layOut(own, diaryTimeline(diary, subject, period), period, CLUSTER_MS[own[0]!.class]);
    const starts = [period.from, ...layout.boundaries.map(({ instant }) => instant)];
    const made = { layout, middles: starts.map((from, k) => (from + (starts[k + 1] ?? period.to)) / 2), witnesses: own };
    remembered.set(subject, made);
    return made;
  };
  const written = new Set(diary.map((entry) => entry.subject));
  const byId = new Map(witnesses.map((one) => [one.id, one]));
  return (oneId, otherId) => {
    const [one, other] = [byId.get(oneId)!, byId.get(otherId)!];
    if (one.subject !== other.subject) return [];
    const votes = votesOn(one.subject);
    const others = votes.witnesses.flatMap((third, w) => (third.group === one.group || third.group === other.group ? [] : [{ group: third.group, votes: votes.layout.votes[w]! }]));
    if (new Set(others.map(({ group }) => group)).size < 2 && !written.has(one.subject)) return [];
    const out = votes.witnesses.filter((third) => third.group === one.group || third.group === other.group).map(({ id }) => id);
    return commonErrors(votes, one, other, others.map((third) => third.votes), book(one.subject, out));
  };
}

function commonErrors({ layout, middles, witnesses }: Votes, one: Witness, other: Witness, others: readonly Uint8Array[], reference: ReturnType<ReferenceBook>): PairFound[] {
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
