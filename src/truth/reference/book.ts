import type { DiaryEntry } from "../../intake/readings.js";
import type { SignalAccount } from "../signals/account.js";
import type { Site } from "../../site/site.js";
import { canonicalTimeline } from "../../timeline/make.js";
import type { Timeline } from "../../timeline/timeline.js";
import { blindRestarts, decode } from "./decode.js";
import { diaryTimeline } from "./diary.js";
import { fitModel, type ModelInput } from "./fit-model.js";
import { shareNearMovements } from "./nearby.js";
import type { Reference, ReferenceBook, ReferenceSegment } from "./reference.js";
import { stirsOf, witnessesOf } from "./witness.js";
import type { Interval } from "../../ground/intervals.js";
import { lookUp } from "../../ground/look-up.js";

/**
 * The book of references for one site and period. Where the diary says something, that holds, with probability 1;
 * elsewhere a hidden chain over the segments between the witnesses' changes ({@link fitModel}) says what is likeliest,
 * and who vouches. Signals named in `excluding` are left out of everything: of the segments, of the votes, of what
 * other witnesses' error rates are learnt from, and of the movements nearby. Unknown ids make no difference. Answers
 * are remembered by subject and sorted `excluding`, and worked out only when asked for.
 *
 * Pairs `detected` to depend on one another count as one witness ({@link findDependences}).
 *
 * Leaving a signal out leaves out what it says. It does not undo a restart that its going dark helped to discover: that
 * can only have made its siblings unknown.
 * @throws RangeError when `period` is empty, an account covers another period, or (on asking) the subject is not of the
 * site.
 */
export function makeReferenceBook(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  diary: readonly DiaryEntry[],
  period: Interval,
  detected: readonly (readonly [string, string])[] = [],
): ReferenceBook {
  const inputOf = modelInputs(site, accounts, diary, period, detected);
  const remembered = new Map<string, Reference>();
  return (subject, excluding) => {
    const left = [...new Set(excluding)].toSorted();
    const key = JSON.stringify([subject, ...left]);
    const known = remembered.get(key);
    if (known !== undefined) return known;
    const input = inputOf(subject, left);
    const segments = decode(fitModel(input), input, period);
    const barriers = blindRestarts(input.witnesses, period);
    const reference: Reference = { subject, excluding: left, timeline: timelineOfSegments(segments, period), segments, barriers };
    remembered.set(key, reference);
    return reference;
  };
}

/**
 * What to fit a subject's model to without some signals. The work they share is done once. Throws as
 * {@link makeReferenceBook}.
 */
export function modelInputs(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  diary: readonly DiaryEntry[],
  period: Interval,
  detected: readonly (readonly [string, string])[] = [],
): (subject: string, excluding: readonly string[]) => ModelInput {
  const all = witnessesOf(site, accounts, detected);
  const stirs = stirsOf(site, accounts, detected);
  const written = new Map<string, Timeline>(site.subjects.map((subject) => [subject.id, diaryTimeline(diary, subject.id, period)]));
  const classes = new Map(site.subjects.map((subject) => [subject.id, subject.class]));
  // Remembered across exclusions: these are mostly the subject's own signals, and rarely among the speakers.
  const shares = new Map<string, number>();
  const shareNearby: ModelInput["shareNearby"] = (speakers) => {
    const key = speakers.map((one) => one.id).join("\n");
    const share = shares.get(key) ?? shareNearMovements(speakers, period);
    shares.set(key, share);
    return share;
  };
  return (subject, excluding) => {
    const subjectClass = classes.get(subject);
    if (subjectClass === undefined) throw new RangeError(`No subject of the site is called ${subject}.`);
    const used = all.filter((one) => !excluding.includes(one.id));
    for (const { account } of used) {
      if (account.start !== period.from || account.end !== period.to) {
        throw new RangeError(`A timeline over [${account.start}, ${account.end}) does not fit the period [${period.from}, ${period.to}).`);
      }
    }
    const stirring = stirs.filter((one) => one.subject === subject && !excluding.includes(one.id));
    return {
      class: subjectClass,
      stirs: stirring,
      timeZone: site.timeZone,
      witnesses: used.filter((one) => one.subject === subject),
      others: used.filter((one) => one.subject !== subject),
      written: lookUp(written, subject),
      period,
      shareNearby,
    };
  };
}

function timelineOfSegments(segments: readonly ReferenceSegment[], period: Interval): Timeline {
  return canonicalTimeline(
    period.from,
    period.to,
    segments.map((segment) => segment.from),
    segments.map((segment) => segment.state),
  );
}
