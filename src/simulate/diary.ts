import { csvText } from "../ground/csv-text.js";
import { stateWords } from "../site/state-words.js";
import { ON, type Timeline } from "../timeline/timeline.js";
import { daysLater, instantOf } from "./local-calendar.js";
import { required } from "./required.js";
import type { Scenario } from "./scenario.js";
import { stampWriter } from "./stamp-writing.js";
import type { Interval } from "../ground/intervals.js";

/**
 * A diary (subject,state,from,to; local time with offset) of the truth within `span`: one line a stretch, subject by
 * subject in the order given, in the words of the subject's class.
 */
export function diaryText(scenario: Scenario, truth: ReadonlyMap<string, Timeline>, subjects: readonly string[], span: Interval): string {
  const stamp = stampWriter("iso", scenario.timezone);
  const lines = subjects.flatMap((subject) => {
    const timeline = required(truth.get(subject), `the truth of ${subject}`);
    const { on, off } = stateWords[subject in scenario.bays ? "bay" : subject in scenario.doors ? "door" : "person"];
    return [...timeline.times].flatMap((at, i) => {
      const from = Math.max(at, span.from);
      const to = Math.min(timeline.times[i + 1] ?? timeline.end, span.to);
      return from < to ? [[subject, timeline.states[i] === ON ? on : off, stamp(from), stamp(to)]] : [];
    });
  });
  return csvText(["subject", "state", "from", "to"], lines, { lineEnd: "\n" });
}

/** What the kept diary covers: the scenario's subjects and days, or everything. */
export function keptPart(scenario: Scenario, period: Interval): { subjects: readonly string[]; span: Interval } {
  const all = [...Object.keys(scenario.bays), ...Object.keys(scenario.doors), ...Object.keys(scenario.people)];
  const { kept } = scenario.diary;
  if (kept === undefined) return { subjects: all, span: period };
  const until = instantOf(scenario.timezone, daysLater(scenario.period.from, kept.days));
  return { subjects: kept.subjects, span: { from: period.from, to: Math.min(period.to, until) } };
}
