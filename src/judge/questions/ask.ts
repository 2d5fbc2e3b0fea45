import { group } from "d3-array";
import { difference, intersection, totalMs, union, type Interval } from "../../ground/intervals.js";
import { lookUp } from "../../ground/look-up.js";
import { firstWhere } from "../../ground/search.js";
import { HOUR_MS, MINUTE_MS } from "../../ground/units.js";
import type { Diary } from "../../intake/diary.js";
import type { DiaryEntry } from "../../intake/readings.js";
import type { SubjectTime } from "../../intake/diary-corrections.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { Site } from "../../site/site.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { Questions, RuleQuestions } from "../../result/questions.js";
import type { RuleFinding } from "../../result/rules.js";
import { askedAgain, doubtfulTimes } from "./doubtful-entries.js";
import { eventQuestion, type Draft } from "./event-questions.js";
import { framesOf } from "./frames.js";
import { reachOf, type Bearing, type Flip, type Reach } from "./groups.js";
import { localWords, type LocalWords } from "./local-words.js";
import { lookingAt, tellingOf, unverifiedMoments, type Moment } from "./moments.js";
import { movementsOf } from "./movements.js";
import { routineQuestions } from "./routines.js";
import type { JudgedRule } from "./suppose.js";
import { isHopeless, whyText } from "./why.js";

/** What questions are worked out from. */
export interface AskContext {
  readonly site: Site;
  readonly period: Interval;
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  readonly diary: Pick<Diary, "entries" | "unknown" | "twice">;
  /** Makes the book of references as it would be without a diary. Done at most once, where there is something to ask. */
  readonly bare: () => ReferenceBook;
  /** The finding with the verdict over all months. */
  readonly over: (finding: RuleFinding) => RuleFinding;
}

/** What to ask somebody who was there, and what answers can do for each rule. A pure function; the same history gives the same questions. */
export function whatToAsk(judged: readonly JudgedRule[], context: AskContext): Questions {
  const words = localWords(context.site.timeZone);
  const ends = diaryEnds(context.diary.entries, context.period, words);
  const open = judged.filter((one) => !isHopeless(one.finding) && (unverifiedMoments(one.finding).length > 0 || context.diary.entries.length > 0));
  const bare = open.length === 0 ? null : context.bare();
  const drafts = bare === null ? [] : draftsFor(open, context, bare, words);
  const bearings = new Map(open.map((one) => [one.finding.name, askedAbout(one, bearingOn(one, drafts), context)]));
  const reached = new Map(
    open.flatMap((one): [string, Reach][] => {
      const bearing = bearings.get(one.finding.name) ?? [];
      return bare === null || bearing.length === 0 ? [] : [[one.finding.name, reachOf(one, bearing, bare, context.over)]];
    }),
  );
  const list = listed([...reached.values()]);
  const waiting = (drafts: readonly Draft[]): number => drafts.filter((draft) => !list.includes(draft)).length;
  const settling = [...new Set([...reached.values()].flatMap(({ flips: [first] }) => draftsOf(first)))];
  return {
    list: list.map((draft) => {
      const own = open.flatMap(({ finding: { name } }) => (bearings.get(name) ?? []).flatMap((bearing) => (bearing.draft === draft ? [{ name, moments: bearing.moments }] : [])));
      const { id, sort, days, about, around, again } = draft;
      return { id, sort, ...draft.wording(), days, about, around, again, rules: own.map(({ name }) => name), moments: own.flatMap(({ moments }) => moments.map(({ id }) => id)) };
    }),
    rules: judged.map((one) => {
      const reach = reached.get(one.finding.name) ?? null;
      return ruleQuestions(one, reach, waiting(draftsOf(reach?.flips[0])), ends, context, words);
    }),
    settling: { count: settling.length, waiting: waiting(settling) },
    diaryEnds: ends,
  };
}

/** Every question that could be asked about the rules, whether it changes a verdict or not: routines, then single events, then doubts. */
function draftsFor(open: readonly JudgedRule[], { site, period, accounts, diary }: AskContext, bare: ReferenceBook, words: LocalWords): Draft[] {
  const rules = open.map(({ rule }) => rule);
  const written = new Map([...group(diary.entries, (one) => one.subject)].map(([subject, own]) => [subject, union(own)]));
  const wasAsked = (time: SubjectTime): boolean => isAnswered(time, diary.unknown, written);
  const isNew = ({ about }: Draft): boolean => !about.every(wasAsked);
  const asking = { words, movements: movementsOf(site, accounts), period, written, wasAsked };
  const all = framesOf(site, rules, bare);
  const unverified = open.map(({ rule, finding }) => looksOf(rule, unverifiedMoments(finding)));
  const openFrames = all.filter((frame) => unverified.some((looks) => untoldIn(looks, frame).length > 0));
  const routines = routineQuestions(all, openFrames, { ...asking, site, accounts });
  const inRoutine = new Set(routines.flatMap(({ frames }) => frames));
  const events = openFrames.flatMap((frame) => (inRoutine.has(frame) ? [] : [eventQuestion(frame, asking)])).filter((draft) => draft !== null);
  const doubts = doubtfulTimes(site, accounts, diary.entries, diary.twice, period).map((time) => askedAgain(time, site, words));
  return [...routines.map(({ draft }) => draft), ...[...events, ...doubts].filter(isNew)];
}

/**
 * Whether somebody was asked about the time and did not know: rows without a state lie in it, and leave none of it that the
 * diary does not tell. A longer one says nothing of it: who excepts a night may well know when somebody came home in it.
 */
function isAnswered({ subject, from, to }: SubjectTime, unknown: readonly SubjectTime[], written: ReadonlyMap<string, readonly Interval[]>): boolean {
  const within = unknown.filter((one) => one.subject === subject && one.from >= from && one.to <= to);
  return within.length > 0 && difference([{ from, to }], [...within, ...(written.get(subject) ?? [])]).length === 0;
}

/** A moment, and the time in which its facts look at a subject. */
interface Look extends Interval {
  readonly moment: Moment;
}

/** When the moments of a rule look at a subject, in order, the longest of those times, and whether somebody outside the rule tells of a time. */
interface Looks {
  readonly inOrder: readonly Look[];
  readonly longestMs: number;
  readonly isTold: (time: Interval) => boolean;
}

/** The {@link Looks} at every subject of a rule's facts. Worked out once: a large site has thousands of moments and frames. */
function looksOf(rule: JudgedRule["rule"], moments: readonly Moment[]): ReadonlyMap<string, Looks> {
  return new Map(
    expressionRefs(rule.spec.rightWhen).map((subject) => {
      const timeOf = lookingAt(rule, subject);
      const inOrder = moments.map((moment): Look => ({ moment, ...timeOf(moment) })).sort((a, b) => a.from - b.from);
      const longestMs = inOrder.reduce((most, { from, to }) => Math.max(most, to - from), 0);
      return [subject, { inOrder, longestMs, isTold: tellingOf(rule, rule.history.book, subject) }];
    }),
  );
}

/** The looks at a subject that fall into a time of it, by binary search. */
function looksInto(looks: ReadonlyMap<string, Looks>, { subject, from, to }: SubjectTime): Look[] {
  const { inOrder, longestMs } = looks.get(subject) ?? { inOrder: [], longestMs: 0 };
  const begin = firstWhere(inOrder.length, (i) => (inOrder[i]?.from ?? Infinity) > from - longestMs);
  const end = firstWhere(inOrder.length, (i) => (inOrder[i]?.from ?? Infinity) >= to);
  return inOrder.slice(begin, end).filter((look) => look.to > from);
}

/** Those of them of whose time in common nobody outside the rule tells. */
function untoldIn(looks: ReadonlyMap<string, Looks>, time: SubjectTime): Look[] {
  const isTold = looks.get(time.subject)?.isTold;
  return looksInto(looks, time).filter((look) => isTold?.({ from: Math.max(time.from, look.from), to: Math.min(time.to, look.to) }) === false);
}

/** The questions that bear on a rule, each with the moments that it bears on: unverified ones; for a doubt about the diary all in its time. */
function bearingOn({ rule, finding }: JudgedRule, drafts: readonly Draft[]): Bearing[] {
  const unverified = unverifiedMoments(finding);
  const every: Moment[] = finding.firingList.map(({ id, at, looks }) => ({ id, sort: "firing", at, looks }));
  const looks = { every: looksOf(rule, every), unverified: looksOf(rule, unverified) };
  const place = new Map([...unverified, ...every].map((moment, i) => [moment, i]));
  return drafts.flatMap((draft) => {
    const looking = new Set(draft.about.flatMap((time) => (draft.again ? looksInto(looks.every, time) : untoldIn(looks.unverified, time)).map(({ moment }) => moment)));
    return looking.size === 0 ? [] : [{ draft, moments: [...looking].sort((a, b) => lookUp(place, a) - lookUp(place, b)) }];
  });
}

/**
 * A rule that is clear is so whatever the rest turns out to be, as far as its bounds promise; only what makes the diary itself
 * doubtful is still asked.
 */
function askedAbout({ finding }: JudgedRule, bearing: readonly Bearing[], { over }: AskContext): readonly Bearing[] {
  return over(finding).verdict === "clear to enable" ? bearing.filter(({ draft }) => draft.again) : bearing;
}

/**
 * The questions that can change a verdict: those of each rule's cheapest change first. Where one of them may settle a moment
 * by itself, others about the same moment wait until its answer is known.
 */
function listed(reached: readonly Reach[]): Draft[] {
  const flips = reached
    .flatMap(({ flips: own, telling }) => own.map((flip, place) => ({ ...flip, place, telling })))
    .sort((a, b) => a.place - b.place || a.group.length - b.group.length);
  const found = new Set<Draft>();
  for (const { group: asked, telling } of flips) {
    const settled = new Set<string>();
    for (const { draft, moments } of asked) {
      if (moments.every(({ id }) => settled.has(id))) continue;
      found.add(draft);
      if (telling.has(draft)) for (const { id } of moments) settled.add(id);
    }
  }
  return [...found];
}

function draftsOf(flip: Flip | undefined): Draft[] {
  return flip?.group.map(({ draft }) => draft) ?? [];
}

function ruleQuestions({ rule, finding }: JudgedRule, reach: Reach | null, waiting: number, ends: number | null, { over, site }: AskContext, words: LocalWords): RuleQuestions {
  const unverified = unverifiedMoments(finding);
  const firings = unverified.filter(({ sort }) => sort === "firing");
  const now = over(finding).verdict;
  const flips = reach?.flips ?? [];
  const counts = {
    unverifiedFirings: firings.length,
    unverifiedWanted: unverified.length - firings.length,
    afterDiary: ends === null ? 0 : firings.filter(({ at }) => at >= ends).length,
  };
  const settledBy = flips[0]?.group.length ?? null;
  return {
    rule: finding.name,
    verdict: now,
    ...counts,
    could: [...new Set(flips.map(({ verdict }) => verdict))],
    settledBy,
    waiting,
    why: whyText({ ...counts, waiting, act: rule.spec.act, finding, verdict: now, reach, flip: flips[0] ?? null, ends: ends === null ? null : words.date(ends - MINUTE_MS), siteFile: site.file }),
  };
}

/** A day counts as written down where the diary tells of some subject for half of it. Our own choice. */
const HALF_DAY_MS = 12 * HOUR_MS;

/** Where a diary that was kept day by day ends: on the last day of the period of which it tells enough. Null without a diary. */
function diaryEnds(entries: readonly DiaryEntry[], period: Interval, words: LocalWords): number | null {
  const told = [...group(entries, (one) => one.subject).values()].map((own) => union(own));
  for (let midnight = words.midnight(period.to - 1); midnight >= words.midnight(period.from); midnight = words.midnight(midnight, -1)) {
    const day = [{ from: midnight, to: words.midnight(midnight, 1) }];
    const ends = told.map((own) => intersection(day, own)).filter((own) => totalMs(own) >= HALF_DAY_MS).map((own) => Math.max(...own.map(({ to }) => to)));
    if (ends.length > 0) return Math.max(...ends);
  }
  const last = entries.filter(({ from }) => from < period.to).map(({ to }) => to);
  return last.length === 0 ? null : Math.max(...last);
}
