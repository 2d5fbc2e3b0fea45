import { difference, intersection, totalMs, union, type Interval } from "../../ground/intervals.js";
import { SECOND_MS, YEAR_MS } from "../../ground/units.js";
import { DESIGN_COUNTING, type DesignHistory, type PartHistory, type PartStretch } from "../../result/design.js";
import type { SubjectClass } from "../../site/site.js";
import { any } from "../../timeline/any.js";
import { stretches } from "../../timeline/stretches.js";
import { ON, type Timeline } from "../../timeline/timeline.js";
import { localDays, type LocalDay } from "../evidence/local-days.js";
import { seenTimeline } from "../evidence/seen.js";
import { wrongTime } from "../fooled/context.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { evaluateParts, timelineOfPart } from "../rule/evaluate.js";
import { confirmedTimeline } from "../rule/facts.js";
import type { Part } from "./parts.js";
import type { SignalLags } from "../gap/gap.js";

/** Two reports this close together may be one event told twice. Our own choice. */
const SPARE_MS = 60 * SECOND_MS;

/** What each part of a rule did over one period while firing would have been wrong, except in the times left out. */
export function designHistory(rule: RuleOverHistory, parts: readonly [Part, Part], lags: SignalLags, leftOut: readonly Interval[]): DesignHistory {
  const { witnesses, tolerance, site, history } = rule;
  const days = localDays(history.period, site.timeZone);
  const atHome = stretchesOfClass(rule, "person");
  const kept = days.map((day) => atHome === null || intersection([day], atHome).length > 0);
  const keptDays = days.filter((_, i) => kept[i]);
  const wrong = wrongTime(witnesses.outside.truth, witnesses.full.truth, tolerance.earlyMs).looked;
  const counted = intersection(intersection(wrong, stretches(seenTimeline(rule), ON)), difference(keptDays, union(leftOut)));
  const told = parts.map((part) => partIn(part, rule, lags, counted, days)) as [Told, Told];
  return {
    counting: DESIGN_COUNTING,
    days: days.map((day, i) => (kept[i] !== true ? "x" : day.weekday > 5 ? "e" : "w")).join(""),
    years: totalMs(counted) / YEAR_MS,
    homeShare: shareAtHome(rule, counted),
    parts: [told[0].history, told[1].history],
    trueTogether: intersection(told[0].explained, told[1].explained).length,
  };
}

/** Two periods of one rule as one: the days of the second follow those of the first. */
export function joinedHistories(first: DesignHistory, second: DesignHistory): DesignHistory {
  const later = (one: PartStretch): PartStretch => ({ ...one, day: one.day + first.days.length });
  const joined = (i: 0 | 1): PartHistory => ({
    ...second.parts[i],
    longestSeconds: Math.max(first.parts[i].longestSeconds, second.parts[i].longestSeconds),
    stretches: [...first.parts[i].stretches, ...second.parts[i].stretches.map(later)],
  });
  const years = first.years + second.years;
  return {
    counting: second.counting,
    days: first.days + second.days,
    years,
    homeShare: years === 0 ? 0 : (first.homeShare * first.years + second.homeShare * second.years) / years,
    parts: [joined(0), joined(1)],
    trueTogether: first.trueTogether + second.trueTogether,
  };
}

/** A part's history, and its stretches that true events explain. */
interface Told {
  readonly history: PartHistory;
  readonly explained: readonly Interval[];
}

function partIn(part: Part, rule: RuleOverHistory, lags: SignalLags, counted: readonly Interval[], days: readonly LocalDay[]): Told {
  const on = stretches(heardOf(part, rule), ON);
  const truly = trulyOn(part, rule, lags);
  const cut = on.flatMap((one) => intersection([one], counted).map((piece) => ({ ...piece, explained: intersection([one], truly).length > 0 })));
  const longestMs = Math.max(part.longestMs, ...on.map((one) => one.to - one.from));
  return {
    history: { name: part.name, signals: [...part.signals], longestSeconds: longestMs / SECOND_MS, stretches: cut.map((one) => ({ ...placed(one, days), explained: one.explained })) },
    explained: cut.filter((one) => one.explained),
  };
}

/** The condition of a part as the rule heard it. */
export function heardOf(part: Part, { spec, site, replayed }: RuleOverHistory): Timeline {
  // The part's atoms are atoms of the rule: the replay has evaluated them.
  const parts = evaluateParts(part.condition, () => { throw new RangeError(`“${spec.name}” was not replayed.`); }, site.bridgeMs, replayed.parts);
  return timelineOfPart(part.condition, parts);
}

/** When the part's condition would have held had its signals told the truth, at once or as late as they usually are. */
function trulyOn(part: Part, { site, history: { book } }: RuleOverHistory, lags: SignalLags): Interval[] {
  const subjectOf = new Map(site.signals.map(({ id, subject }) => [id, subject]));
  const parts = evaluateParts(
    part.condition,
    (signal) => {
      const reference = book(subjectOf.get(signal) ?? signal, []);
      return { timeline: confirmedTimeline(reference, "verified"), barriers: reference.barriers ?? [] };
    },
    site.bridgeMs,
  );
  const lateMs = Math.max(0, ...part.signals.map((signal) => lags.get(signal)?.mostMs ?? 0)) + SPARE_MS;
  return stretches(timelineOfPart(part.condition, parts), ON).map(({ from, to }) => ({ from, to: to + lateMs }));
}

/** Where an interval lies by the local clock. */
function placed({ from, to }: Interval, days: readonly LocalDay[]): Omit<PartStretch, "explained"> {
  const day = days.findLastIndex((one) => one.from <= from);
  return { day, at: (from - (days[day]?.midnight ?? from)) / SECOND_MS, seconds: (to - from) / SECOND_MS };
}

function shareAtHome(rule: RuleOverHistory, counted: readonly Interval[]): number {
  const [people, bays] = [stretchesOfClass(rule, "person"), stretchesOfClass(rule, "bay")];
  const total = totalMs(counted);
  if (people === null || bays === null || total === 0) return 0;
  return totalMs(intersection(intersection(people, bays), counted)) / total;
}

/** When any subject of the class was on, as all witnesses together tell; null where the site has none. */
function stretchesOfClass({ site, history: { book } }: RuleOverHistory, wanted: SubjectClass): Interval[] | null {
  const timelines: Timeline[] = site.subjects.filter((one) => one.class === wanted).map(({ id }) => confirmedTimeline(book(id, [])));
  return timelines.length === 0 ? null : stretches(any(timelines), ON);
}
