import { pairs } from "d3-array";
import type { Interval } from "../../ground/intervals.js";
import type { DiaryEntry } from "../../intake/readings.js";
import { betaQuantile } from "../../statistics/distributions.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { OFF, ON, type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import type { Layout } from "./layout.js";
import type { ExpectedCount, Rates } from "./learn.js";
import { DIARY_CONFIDENCE, DIARY_EDGE_MS, ERROR_PRIOR, MOST_ERROR_SHARE, PRIOR_ERROR_SHARE } from "./priors.js";

/**
 * What the diary says about one subject over `period`: unknown where nothing was written, and where two entries
 * contradict each other, since then neither is certain. Entries may overlap and come in any order; empty ones say
 * nothing.
 */
export function diaryTimeline(diary: readonly DiaryEntry[], subject: string, period: Interval): Timeline {
  const bounds = diary
    .filter((entry) => entry.subject === subject)
    .flatMap(({ from, to, state }) => [
      { at: from, state, change: 1 },
      { at: to, state, change: -1 },
    ])
    .toSorted((a, b) => a.at - b.at);
  // How many entries say off and on. Of several steps at one instant the last one stands: by then all are counted.
  const saying = { [OFF]: 0, [ON]: 0 };
  const states = bounds.map(({ state, change }) => {
    saying[state] += change;
    const [off, on] = [saying[OFF] > 0, saying[ON] > 0];
    return off === on ? UNKNOWN : on ? ON : OFF;
  });
  return canonicalTimeline(
    period.from,
    period.to,
    bounds.map((bound) => bound.at),
    states,
  );
}

/** The errors that the diary shows, by witness. */
export interface DiaryCounts {
  readonly saysOnGivenOff: readonly ExpectedCount[];
  readonly saysOffGivenOn: readonly ExpectedCount[];
}

/**
 * The layout that error rates are learnt from: without the votes between an edge of the diary and the change of
 * witnesses that belongs to it, at most {@link DIARY_EDGE_MS} away. There a person rounded or a sensor was late; as a
 * segment like any other it would count as much as a night, and make every visit an error.
 */
export function withoutEdges(layout: Layout, period: Interval): Layout {
  const isEdge = layout.boundaries.map(({ to }) => to === null);
  const leads = (b: number): number | null => layout.boundaries[b]?.to ?? null;
  const masked = lengthsOf(layout, period).map((ms, k) => {
    const word = layout.written[k];
    if (word === undefined || word === UNKNOWN || ms > DIARY_EDGE_MS) return false;
    // The diary begins here and the witnesses follow; or they were first and the diary ends.
    return (isEdge[k - 1] === true && leads(k) === word) || (isEdge[k] === true && leads(k - 1) === 1 - word);
  });
  if (!masked.includes(true)) return layout;
  return { ...layout, votes: layout.votes.map((row) => row.map((vote, k) => (masked[k] === true ? UNKNOWN : vote))) };
}

/**
 * How often each witness was wrong where the diary knows the truth. A segment counts as one look, however long: a long
 * quiet night is not more evidence. One shorter than `fullMs` counts by its length: forty flaps of ten seconds are not
 * forty nights of error.
 */
export function diaryCounts(layout: Layout, period: Interval, fullMs: number): DiaryCounts {
  const looks = lengthsOf(layout, period).map((ms) => Math.min(1, ms / fullMs));
  const counted = (truth: 0 | 1): ExpectedCount[] =>
    layout.votes.map((row) => {
      let [hits, trials] = [0, 0];
      looks.forEach((look, k) => {
        if (layout.written[k] !== truth || row[k] === UNKNOWN) return;
        trials += look;
        if (row[k] !== truth) hits += look;
      });
      return { hits, trials };
    });
  return { saysOnGivenOff: counted(0), saysOffGivenOn: counted(1) };
}

/** The share to report, from the prior and the counts. */
export function countedShare({ hits, trials }: ExpectedCount): number {
  return Math.min((hits + ERROR_PRIOR.alpha - 1) / (trials + ERROR_PRIOR.alpha + ERROR_PRIOR.beta - 2), MOST_ERROR_SHARE);
}

/**
 * The rates to work with: if more errors were counted than the prior expects, only as much worse than the prior as is
 * certain ({@link DIARY_CONFIDENCE}, the exact lower bound of Clopper & Pearson 1934). Otherwise a few mishaps in a
 * short diary would make a witness useless for all the rest of the time.
 */
export function ratesFromDiary(counts: DiaryCounts): Pick<Rates, "saysOnGivenOff" | "saysOffGivenOn"> {
  const used = (one: ExpectedCount): number => {
    const share = countedShare(one);
    if (share <= PRIOR_ERROR_SHARE) return share;
    const certain = one.hits > 0 ? betaQuantile(1 - DIARY_CONFIDENCE, one.hits, one.trials - one.hits + 1) : 0;
    return Math.min(Math.max(PRIOR_ERROR_SHARE, certain), share);
  };
  return { saysOnGivenOff: counts.saysOnGivenOff.map(used), saysOffGivenOn: counts.saysOffGivenOn.map(used) };
}

/** How long every segment is, in milliseconds. */
function lengthsOf(layout: Layout, period: Interval): number[] {
  return pairs([period.from, ...layout.boundaries.map(({ instant }) => instant), period.to], (from, to) => to - from);
}
