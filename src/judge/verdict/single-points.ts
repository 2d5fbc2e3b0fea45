import { capitalised } from "../../ground/first-letter.js";
import { HOUR_SECONDS, MINUTE_SECONDS } from "../../ground/units.js";
import type { Act } from "../../site/site.js";
import { letsIn, type Standard } from "../rule/prepare.js";
import { actNouns, figureText, listText, MOST_NAMED, percentText } from "../rule/words.js";
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
  const told = alone.slice(0, MOST_NAMED).map((set) => `${[...set.signals, ...set.causes].join()} for about ${hoursText(set.hoursPerMonth)} a month (${percentText(set.share, "up")} of that time)`);
  const much = longest.share > MOST_ALONE_SHARE;
  if (!much && !letsIn(act)) return [];
  const withinLimit = limits !== null && high !== null && high <= limits.wrongPerYear;
  const effect: Reason["effect"] = !letsIn(act) ? "noted" : !much ? "clears" : withinLimit ? "noted" : "open";
  const expected = high === null ? "How often they report falsely is not known." : `At the measured rates that makes at most ${figureText(high, "up", limits?.wrongPerYear)} wrong a year.`;
  return [
    {
      code: "single-in-practice",
      effect,
      text: `When it would have been wrong to ${act}, everything else was at times already true, and one alone would have been enough: ${told.join("; ")}${alone.length > MOST_NAMED ? `; and ${alone.length - MOST_NAMED} more` : ""}. ${expected}`,
      measured: longest.share,
      limit: MOST_ALONE_SHARE,
      unit: "share",
    },
  ];
}

/** Single points by structure, for acts that let someone in: each forbids the rule. Empty for other acts. */
export function singlePointReasons(input: SinglePointInput): Reason[] {
  if (!letsIn(input.act)) return [];
  return pointKinds(input.singlePoints).map(({ code, one, fault, any, names }) => ({
    code,
    effect: names.length === 0 ? "clears" : "breaks",
    text: names.length === 0 ? `No ${fault} ${any} can ${input.act} while all others say the opposite.` : aloneText(fault, names, input.act),
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
    .map(({ code, one, fault, names }) => ({
      code,
      effect: "noted",
      text: `${aloneText(fault, names, input.act)} Worth knowing, but not used for ${actNouns[input.act].one} rules.`,
      measured: names.length,
      limit: null,
      unit: `${one}s`,
    }));
}

/** `11 h`, or minutes below one hour; rounded up. */
function hoursText(hours: number): string {
  return hours < 1 ? `${Math.ceil((hours * HOUR_SECONDS) / MINUTE_SECONDS)} min` : `${figureText(hours, "up")} h`;
}

/** `A false report from phone-mira or phone-tom alone can unlock.` */
function aloneText(fault: string, names: readonly string[], act: Act): string {
  return `${capitalised(`a ${fault}`)} ${listText(names, "or")} alone can ${act}.`;
}

function pointKinds(points: SinglePoints): { readonly code: Reason["code"]; readonly one: string; readonly fault: string; readonly any: string; readonly names: readonly string[] }[] {
  return [
    { code: "single-signal", one: "signal", fault: "false report from", any: "any one sensor", names: points.signals },
    { code: "single-cause", one: "shared cause", fault: "fault of", any: "any one shared cause", names: points.causes },
  ];
}
