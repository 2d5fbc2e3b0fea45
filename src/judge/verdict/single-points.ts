import { letsIn, type Standard } from "../rule/prepare.js";
import { figureText, MOST_NAMED, percentText } from "../rule/words.js";
import type { LyingInPractice, PracticalSet, Reason, SinglePoints } from "../../result/rules.js";

/**
 * A signal or cause that alone would be enough for more than this share of the time in which firing would be wrong is a
 * single point in practice: about seven hours a month. Our own choice.
 */
const MOST_ALONE_SHARE = 0.01;

/** What a verdict needs to know about single points, by structure and in practice. */
export interface SinglePointInput extends Standard {
  readonly singlePoints: SinglePoints;
  readonly inPractice: LyingInPractice;
}

/** Liars that alone would be enough for part of the time, those with the longest time first. */
export function aloneInPractice(inPractice: LyingInPractice): PracticalSet[] {
  return inPractice.sets.filter((set) => set.signals.length + set.causes.length === 1);
}

/**
 * Single points that only the history has: everything else held anyway. For a rule that lets someone in they keep the
 * verdict open, unless the wrong firings to expect from them, with every liar at the upper end of its rate's interval,
 * are within the limit. They never forbid: the limit on what happened does that. For a rule that locks or arms they are
 * only noted, and only above {@link MOST_ALONE_SHARE}.
 */
export function practicalReasons({ act, limits, singlePoints, inPractice }: SinglePointInput): Reason[] {
  const structural = new Set([...singlePoints.signals, ...singlePoints.causes]);
  const alone = aloneInPractice(inPractice).filter((set) => ![...set.signals, ...set.causes].some((name) => structural.has(name)));
  const longest = alone[0];
  if (longest === undefined) return [];
  const high = alone.reduce<number | null>((sum, { expectedPerYear }) => (sum === null || expectedPerYear.high === null ? null : sum + expectedPerYear.high), 0);
  const told = alone.slice(0, MOST_NAMED).map((set) => `${[...set.signals, ...set.causes].join()} for ${percentText(set.share)} (${figureText(set.hoursPerMonth)} h a month)`);
  const much = longest.share > MOST_ALONE_SHARE;
  if (!much && !letsIn(act)) return [];
  const withinLimit = limits !== null && high !== null && high <= limits.wrongPerYear;
  const effect: Reason["effect"] = !letsIn(act) ? "noted" : !much ? "clears" : withinLimit ? "noted" : "open";
  const expected = high === null ? "How often they lie is not known." : `By the rates measured that makes at most ${figureText(high, "up")} wrong a year.`;
  return [
    {
      code: "single-in-practice",
      effect,
      text: `While it would have been wrong to ${act}, one alone would have sufficed, for the rest held anyway: ${told.join("; ")}${alone.length > MOST_NAMED ? `; and ${alone.length - MOST_NAMED} more` : ""}. ${expected}`,
      measured: longest.share,
      limit: MOST_ALONE_SHARE,
      unit: "share",
    },
  ];
}

/** Single points by structure, for acts that let someone in: each forbids the rule. Empty for other acts. */
export function singlePointReasons(input: SinglePointInput): Reason[] {
  if (!letsIn(input.act)) return [];
  return pointKinds(input.singlePoints).map(({ code, one, names }) => ({
    code,
    effect: names.length === 0 ? "clears" : "breaks",
    text: names.length === 0 ? `No ${one} by itself makes the whole condition true while all others read against it.` : `${names.join(", ")}: ${each(names)} can ${input.act} by lying alone.`,
    measured: names.length,
    limit: 0,
    unit: `${one}s`,
  }));
}

/** The same for acts that let nobody in: worth knowing, but they decide nothing. Empty for acts that let someone in. */
export function notedSinglePoints(input: SinglePointInput): Reason[] {
  if (letsIn(input.act)) return [];
  return pointKinds(input.singlePoints)
    .filter(({ names }) => names.length > 0)
    .map(({ code, one, names }) => ({
      code,
      effect: "noted",
      text: `${names.join(", ")}: ${each(names)} can ${input.act} by lying alone. Worth knowing; it does not decide about a rule that ${input.act}s.`,
      measured: names.length,
      limit: null,
      unit: `${one}s`,
    }));
}

function each(names: readonly string[]): string {
  return names.length === 1 ? "it" : "each of them";
}

function pointKinds(points: SinglePoints): { readonly code: Reason["code"]; readonly one: string; readonly names: readonly string[] }[] {
  return [
    { code: "single-signal", one: "signal", names: points.signals },
    { code: "single-cause", one: "shared cause", names: points.causes },
  ];
}
