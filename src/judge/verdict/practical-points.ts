import type { Act, ActLimits } from "../../site/site.js";
import type { Reason } from "../judgement.js";
import type { LyingInPractice, PracticalSet } from "../fooled/lying-in-practice.js";
import type { SinglePoints } from "../fooled/single-points.js";
import { letsIn } from "../rule/prepare.js";
import { figureText, MOST_NAMED, percentText } from "../rule/words.js";

/**
 * A signal or cause that alone would do for more than this share of the time in which firing would be wrong is told as a
 * single point in practice: about seven hours a month. Our own choice.
 */
export const MOST_ALONE_SHARE = 0.01;

/** What the reason is made from: part of a verdict's input. */
export interface PracticalInput {
  readonly act: Act;
  readonly limits: ActLimits | null;
  readonly singlePoints: SinglePoints;
  readonly inPractice: LyingInPractice;
}

/** Liars that alone would do for part of the time, those that would for longest first. */
export function aloneInPractice(inPractice: LyingInPractice): PracticalSet[] {
  return inPractice.sets.filter((set) => set.signals.length + set.causes.length === 1);
}

/**
 * What the history makes of single points that the rule's structure does not have: all others held anyway.
 * About a rule that lets someone in it keeps the verdict open, unless the wrong firings to be expected through single
 * points, with every liar at the upper end of its rate's interval, are within the limit. It never forbids: the limit on
 * what happened does that. About a rule that locks or arms it is only noted, and only where it is much.
 */
export function practicalReasons({ act, limits, singlePoints, inPractice }: PracticalInput): Reason[] {
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
