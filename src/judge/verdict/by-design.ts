import { certaintyText } from "../../ground/certainty.js";
import { capitalised } from "../../ground/first-letter.js";
import type { DesignFigures, DesignRoad, LimitClaim } from "../../result/design.js";
import type { Reason, SinglePoints } from "../../result/rules.js";
import type { RuleFigures } from "../evidence/figures.js";
import { failedConditions } from "../design/road.js";
import type { Standard } from "../rule/prepare.js";
import { actNouns, confirmedDaysText, countText, figureText, limitText } from "../rule/words.js";

/** What a verdict needs to know about the road of design. */
export interface ByDesignInput extends Standard {
  readonly figures: RuleFigures;
  readonly singlePoints: SinglePoints;
  /** With the figures of all periods; null where the road was not asked for. */
  readonly design: DesignRoad | null;
  /** What limit each road supports, now and later. */
  readonly claims: readonly LimitClaim[];
}

/** Reasons that only speak about counting: where the road of design clears a rule, they are told and decide nothing. */
const ABOUT_COUNTING: readonly Reason["code"][] = ["wrong-upper-bound", "single-in-practice", "unclear-time"];

/** The road of design as one reason; none where it was not asked for or there is no limit to meet. */
export function designReasons(input: ByDesignInput): Reason[] {
  const { design, limits } = input;
  if (design === null || limits === null) return [];
  const bound = design.figures?.bound ?? null;
  const clears = clearsByDesign(input);
  return [{ code: "by-design", effect: clears ? "clears" : "noted", text: designText(input), measured: bound, limit: limits.wrongPerYear, unit: "per year" }];
}

/** Whether the road of design alone shows that wrong firings stay within the limit. */
export function clearsByDesign({ design, limits, singlePoints }: ByDesignInput): boolean {
  if (design === null || limits === null || design.figures === null || design.figures.bound === null) return false;
  const single = singlePoints.signals.length + singlePoints.causes.length > 0;
  return !single && failedConditions(design, design.figures).length === 0 && design.figures.bound <= limits.wrongPerYear;
}

/** The reasons with what only speaks about counting set aside, where the road of design clears the rule. */
export function withoutCounting(reasons: readonly Reason[], input: ByDesignInput): Reason[] {
  if (!clearsByDesign(input)) return [...reasons];
  return reasons.map((one) => (one.effect === "open" && ABOUT_COUNTING.includes(one.code) ? { ...one, effect: "noted" as const } : one));
}

function designText(input: ByDesignInput): string {
  const { act, limits, design, confidence } = input;
  if (design === null || limits === null) return "";
  const { figures } = design;
  const failed = failedConditions(design, figures);
  if (figures === null || figures.bound === null) return `By design: ${failed.map(({ text }) => text).join(" ") || "nothing was seen."}`;
  const bound = `${capitalised(`${needsText(input)} at most ${figureText(figures.bound, "up", limits.wrongPerYear)} a year`)} (${certaintyText(confidence)}); the limit is ${limitText(limits)}. ${assumedText(design)}`;
  const breakEven = breakEvenText(design, act);
  return [`By design: ${bound}`, ...(figures.bound > limits.wrongPerYear && breakEven !== null ? [breakEven] : []), ...failed.map(({ text }) => text)].join(" ");
}

/** `a wrong unlock needs a false vehicle and a false person at the same time:` */
export function needsText({ act }: ByDesignInput): string {
  return `a wrong ${actNouns[act].one} needs a false report about a vehicle and one about a person at the same time:`;
}

/** What the bound rests on, and who said so, in a sentence. */
export function assumedText({ commonShare, commonShareBecause, noSharedHoursBecause }: DesignRoad): string {
  const share = `at most ${oneInText(commonShare)} of the rarer kind of false report shares a cause with the other kind`;
  const noHours = "the two kinds share no hour of the day";
  if (commonShareBecause !== null) return `This rests on what you stated: ${share}${noSharedHoursBecause === null ? "" : `, and ${noHours}`}.`;
  return `This assumes that ${share} (the site file does not say)${noSharedHoursBecause === null ? "" : `, and rests on what you stated: ${noHours}`}.`;
}

/** The statement that would be enough; null where none is. */
export function breakEvenText({ figures }: DesignRoad, act: ByDesignInput["act"]): string | null {
  if (figures === null || figures.breakEven === null) return null;
  return `It would be enough if at most ${oneInText(figures.breakEven)} of ${rarerText(figures.rarer)} shared a cause with the other kind. If you know that, state it in the site file (common_cause of the rule that ${act}s).`;
}

function rarerText(rarer: DesignFigures["rarer"]): string {
  return rarer === null ? "the rarer kind" : `the false reports about ${rarer}`;
}

/** `1 in 50`, never a larger share than the one given. */
export function oneInText(share: number): string {
  return share >= 1 ? "all" : `1 in ${figureText(Math.ceil(Number((1 / share).toPrecision(9))))}`;
}

/** `Counted: none wrong in 186 confirmed days`. */
export function countedBesideText({ act, figures }: ByDesignInput): string {
  const { one, many } = actNouns[act];
  const { firings: { wrong }, evidence: { yearsConfirmed } } = figures;
  if (yearsConfirmed === 0) return "Counted: nothing was confirmed";
  return `Counted: ${wrong === 0 ? "none wrong" : countText(wrong, `wrong ${one}`, `wrong ${many}`)} in ${confirmedDaysText(yearsConfirmed)}`;
}
