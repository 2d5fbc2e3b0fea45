import type { DiaryEntry } from "../intake/readings.js";
import type { SignalAccount } from "../signals/account.js";
import type { Site } from "../site/site.js";
import { canonicalTimeline } from "../timeline/make.js";
import { UNKNOWN, type Interval, type Timeline, type TruthState } from "../timeline/timeline.js";
import { diaryTimeline } from "./diary-timeline.js";
import type { Reference, ReferenceBook, ReferenceSegment } from "./reference.js";
import { eachStretch } from "./segments.js";
import { vote, type Finding, type Voter } from "./vote.js";

interface Witness extends Voter {
  readonly account: Timeline;
}

/**
 * The book of references for one site and period. Where the diary says something, that holds, with probability 1;
 * elsewhere the subject's signals vote ({@link vote}), each by its `account`, those named in `excluding` left out.
 * Ids in `excluding` that are no signals of the subject make no difference. Answers are remembered by subject and sorted
 * `excluding`, and worked out only when asked for.
 *
 * Leaving a signal out leaves out what it says. It does not undo a restart that its going dark helped to discover: that
 * can only have made its siblings unknown.
 * @throws RangeError when `period` is empty, an account covers another period, or (on asking) the subject is not of the site.
 */
export function makeReferenceBook(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  diary: readonly DiaryEntry[],
  period: Interval,
): ReferenceBook {
  const witnesses = new Map(site.subjects.map((subject) => [subject.id, witnessesOf(site, accounts, subject.id)]));
  const diaries = new Map(site.subjects.map((subject) => [subject.id, diaryTimeline(diary, subject.id, period)]));
  const remembered = new Map<string, Reference>();
  return (subject, excluding) => {
    const left = [...new Set(excluding)].toSorted();
    const key = JSON.stringify([subject, ...left]);
    const known = remembered.get(key);
    if (known !== undefined) return known;
    const all = witnesses.get(subject);
    const written = diaries.get(subject);
    if (all === undefined || written === undefined) throw new RangeError(`No subject of the site is called ${subject}.`);
    const segments = segmentsOf(
      written,
      all.filter((one) => !left.includes(one.id)),
      period,
    );
    const reference: Reference = { subject, excluding: left, timeline: timelineOfSegments(segments, period), segments };
    remembered.set(key, reference);
    return reference;
  };
}

/** A signal without an account has nothing to say. */
function witnessesOf(site: Site, accounts: ReadonlyMap<string, SignalAccount>, subject: string): Witness[] {
  return site.signals.flatMap((signal) => {
    const account = accounts.get(signal.id)?.account;
    return signal.subject === subject && account !== undefined ? [{ id: signal.id, shares: signal.shares, account }] : [];
  });
}

function segmentsOf(written: Timeline, witnesses: readonly Witness[], period: Interval): ReferenceSegment[] {
  const segments: ReferenceSegment[] = [];
  // What the vote says depends on the states alone, and few combinations occur: each is worked out once.
  const voted = new Map<string, Finding>();
  let current: Finding | null = null;
  eachStretch(period, [written, ...witnesses.map((one) => one.account)], (from, to, states) => {
    const key = states.join("");
    let finding = voted.get(key);
    if (finding === undefined) {
      const said = states[0]!;
      finding = said === UNKNOWN ? vote(witnesses, states.slice(1)) : fromDiary(said);
      voted.set(key, finding);
    }
    if (current !== null && sameFinding(current, finding)) segments[segments.length - 1] = { ...segments.at(-1)!, to };
    else segments.push({ from, to, ...finding });
    current = finding;
  });
  return segments;
}

function fromDiary(state: TruthState): Finding {
  return { state, probability: 1, basis: "diary", vouchers: [] };
}

function sameFinding(a: Finding, b: Finding): boolean {
  return a.state === b.state && a.probability === b.probability && a.basis === b.basis && a.vouchers.join("\n") === b.vouchers.join("\n");
}

function timelineOfSegments(segments: readonly ReferenceSegment[], period: Interval): Timeline {
  return canonicalTimeline(
    period.from,
    period.to,
    segments.map((segment) => segment.from),
    segments.map((segment) => segment.state),
  );
}
