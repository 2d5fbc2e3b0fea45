import { greatest } from "d3-array";
import { HOURS_PER_DAY, MINUTE_MS } from "../ground/units.js";
import { actNouns, countText, figureText, numberText } from "../judge/rule/words.js";
import type { RuleQuestions } from "../result/questions.js";
import type { RuleFinding } from "../result/rules.js";

/** What the words about a rule are made with besides its finding. */
export interface SeenContext {
  /** Local hour of the day with its fraction, 0 to 24. */
  readonly hour: (at: number) => number;
  /** `21 October`. */
  readonly date: (at: number) => string;
  /** The last instant that the diary tells of; null without a diary. */
  readonly diaryEnds: number | null;
  readonly asked: Pick<RuleQuestions, "afterDiary"> | null;
  /** Another rule has said already where the diary ends. */
  readonly saidBefore: boolean;
}

/** What was seen of a rule, in two or three short sentences: what was wrong and when, what nobody confirmed, what was missed. */
export function seenText(rule: RuleFinding, context: SeenContext): string {
  return [wrongText(rule, context), missedText(rule)].filter((one) => one !== "").join(" ");
}

function wrongText({ act, cumulated, firings: own, firingList }: RuleFinding, context: SeenContext): string {
  const { count, wrong, unverified } = cumulated?.firings ?? own;
  const { one, many } = actNouns[act];
  const over = cumulated === null ? "" : ` in ${cumulated.periods.length} months`;
  if (count === 0) return `It never acted${over}.`;
  const noun = count === 1 ? one : many;
  const after = cumulated === null ? afterText(unverified, context) : "";
  if (wrong > 0) {
    const hours = cumulated === null ? hoursText(firingList.filter(({ outcome }) => outcome === "wrong").map(({ at }) => context.hour(at))) : "";
    return `${wrong} of ${count} ${noun} wrong${over}${hours}.${unverified > 0 ? ` ${unverified} unverified${after}.` : ""}`;
  }
  return unverified === 0 ? `None of ${countText(count, one, many)} wrong${over}.` : `None wrong${over}. ${unverified} of ${count} ${noun} unverified${after}.`;
}

/** Where the diary ends, if what nobody confirmed came after it. */
function afterText(unverified: number, { diaryEnds, date, asked, saidBefore }: SeenContext): string {
  const after = asked?.afterDiary ?? 0;
  if (diaryEnds === null || after === 0) return "";
  if (saidBefore) return after === unverified ? ", also after that day" : "";
  return `, ${after === unverified ? "all" : String(after)} after your diary stopped on ${date(diaryEnds - MINUTE_MS)}`;
}

function missedText({ act, cumulated, wanted: own }: RuleFinding): string {
  const { count, late, missed } = cumulated?.wanted ?? own;
  if (late + missed === 0) return "";
  const what = late === 0 ? "missed" : missed === 0 ? "late" : "missed or late";
  return `${late + missed} of ${countText(count, `needed ${actNouns[act].one}`, `needed ${actNouns[act].many}`)} ${what}.`;
}

/** How much more could be wrong for all that was seen, since "none wrong" alone reads like a proof; null where another reason decides. */
export function shortfallText({ verdict, reasons }: Pick<RuleFinding, "verdict" | "reasons">): string | null {
  const open = reasons.find(({ code, effect }) => code === "wrong-upper-bound" && effect === "open");
  if (verdict !== "not proven yet" || open === undefined || typeof open.measured !== "number" || open.limit === null) return null;
  return `could be ${figureText(open.measured, "up", open.limit)} wrong a year; limit ${figureText(open.limit)}`;
}

/** With fewer, nothing is said of when they come. Our own choice. */
const FEWEST = 3;
/** It is said where a window of no more hours than this … */
const MOST_HOURS = 6;
/** … holds this share of them. Our own choices. */
const LEAST_SHARE = 0.6;

/** When most of them come, where a few hours of the day hold most: `, seven between midnight and 05:00`. Hours of the day, 0 to 24. */
export function hoursText(hours: readonly number[]): string {
  if (hours.length < FEWEST) return "";
  const windows = Array.from({ length: MOST_HOURS }, (_, i) => i + 1).flatMap((length) =>
    Array.from({ length: HOURS_PER_DAY }, (_, from) => ({ from, length, held: hours.filter((hour) => (hour - from + HOURS_PER_DAY) % HOURS_PER_DAY < length).length })),
  );
  // An hour more is worth it where it adds one in twelve of all.
  const best = greatest(windows.filter(({ held }) => held >= FEWEST && held >= LEAST_SHARE * hours.length), ({ held, length }) => held / hours.length - length / 12);
  if (best === undefined) return "";
  const held = best.held === hours.length ? "all" : numberText(best.held);
  return `, ${held} between ${clock(best.from)} and ${clock((best.from + best.length) % HOURS_PER_DAY)}`;
}

function clock(hour: number): string {
  return hour === 0 ? "midnight" : hour === 12 ? "noon" : `${String(hour).padStart(2, "0")}:00`;
}

