import type { Act, ActLimits } from "../site/site.js";
import { verdictBounds, type RuleFigures, type VerdictBounds } from "./figures.js";
import type { Reason, Verdict } from "./judgement.js";
import type { LyingInPractice } from "./lying-in-practice.js";
import { practicalReasons } from "./practical-points.js";
import type { SinglePoints } from "./single-points.js";
import { letsIn } from "./tolerance.js";
import { actNouns, capitalised, countText, figureText, percentText, seenText } from "./words.js";

/** A rule that was blind for more than this share of the time has not been seen enough. Our own choice. */
export const MOST_BLIND_SHARE = 0.1;
/** Less blind time than this is not worth a line. Our own choice. */
const BLIND_SHARE_TOLD = 0.01;

/** What a verdict is made from. */
export interface VerdictInput {
  readonly act: Act;
  /** Null where the site file sets none for the act. */
  readonly limits: ActLimits | null;
  readonly confidence: number;
  readonly figures: RuleFigures;
  readonly singlePoints: SinglePoints;
  readonly inPractice: LyingInPractice;
  /** Wanted instants left out because the history ends inside their window. */
  readonly cutOff: number;
}

/** A verdict with its reasons and the bounds behind them. */
export interface VerdictResult {
  readonly verdict: Verdict;
  readonly reasons: readonly Reason[];
  readonly bounds: VerdictBounds;
}

/**
 * The verdict, from one-sided bounds at the site's confidence.
 * - do not enable: a lower bound breaks a limit, or one signal or one shared cause alone can open (unlock, disarm);
 * - clear to enable: every upper bound meets its limit with unverified firings taken as wrong, something was wanted, and
 *   the rule was not blind for more than {@link MOST_BLIND_SHARE} of the time, and no single signal or cause would have done
 *   for long in practice (see {@link practicalReasons});
 * - not proven yet: everything else, and whenever there are no limits to meet.
 * A single point of a lock or arm rule is told among the reasons but does not decide: the design forbids it for opening only.
 */
export function verdictOf(input: VerdictInput): VerdictResult {
  const bounds = verdictBounds(input.figures, input.confidence);
  const deciding = [...singlePointReasons(input), ...wrongReasons(input, bounds), ...missedReasons(input, bounds), ...practicalReasons(input), ...blindReasons(input)];
  const reasons = letsIn(input.act) ? deciding : [...deciding, ...neutralSinglePoints(input)];
  const some = (effect: Reason["effect"]): boolean => deciding.some((one) => one.effect === effect);
  return { verdict: some("breaks") ? "do not enable" : some("open") ? "not proven yet" : "clear to enable", reasons, bounds };
}

/** For acts that let someone in. */
function singlePointReasons(input: VerdictInput): Reason[] {
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

function neutralSinglePoints(input: VerdictInput): Reason[] {
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

function wrongReasons({ act, limits, confidence, figures }: VerdictInput, bounds: VerdictBounds): Reason[] {
  const noun = actNouns[act];
  const { wrong, unverified } = figures.firings;
  const counted = countText(wrong, `wrong ${noun.one}`, `wrong ${noun.many}`);
  const seen = seenText(figures.evidence.yearsSeen);
  const confident = `at ${percentText(confidence)} confidence`;
  const most = `at most ${figureText(bounds.wrongUpper, "up")} wrong a year, unverified taken as wrong, ${confident}`;
  const upperText = capitalised(`${counted} and ${unverified} unverified in ${seen}: ${most}`);
  const measured = Number.isFinite(bounds.wrongUpper) ? bounds.wrongUpper : null;
  const unit = "per year";
  if (limits === null) {
    const text = `The site file sets no limits for ${act}, so there is nothing to meet. ${upperText}.`;
    return [{ code: "no-limits", effect: "open", text, measured, limit: null, unit }];
  }
  const limit = limits.wrongPerYear;
  const limitText = `the limit is ${figureText(limit)}.`;
  const least = `at least ${figureText(bounds.wrongLower, "down")} a year, unverified taken as right, ${confident}`;
  return [
    ...(bounds.wrongLower > limit
      ? [{ code: "wrong-lower-bound", effect: "breaks", text: `${counted} in ${seen}: ${least}; ${limitText}`, measured: bounds.wrongLower, limit, unit } as const]
      : []),
    { code: "wrong-upper-bound", effect: bounds.wrongUpper <= limit ? "clears" : "open", text: `${upperText}; ${limitText}`, measured, limit, unit },
  ];
}

function missedReasons({ act, limits, confidence, figures, cutOff }: VerdictInput, bounds: VerdictBounds): Reason[] {
  const noun = actNouns[act];
  const { missed, count } = figures.wanted;
  const rest = cutOff === 0 ? "" : ` Not counted, for the history ends too soon after: ${cutOff}.`;
  if (count === 0) {
    const text = `No ${noun.one} was wanted in ${seenText(figures.evidence.yearsSeen)}, so nothing shows that the rule acts when it should.${rest}`;
    return [{ code: "nothing-wanted", effect: "open", text, measured: 0, limit: null, unit: "wanted instants" }];
  }
  if (limits === null) return [];
  const limit = limits.missedShare;
  const boundText = (bound: string): string =>
    `${missed} of ${countText(count, `wanted ${noun.one}`, `wanted ${noun.many}`)} missed: ${bound} at ${percentText(confidence)} confidence; ` +
    `the limit is ${percentText(limit)}.${rest}`;
  const { missedLower, missedUpper } = bounds;
  const unit = "share";
  return [
    ...(missedLower > limit
      ? [{ code: "missed-lower-bound", effect: "breaks", text: boundText(`at least ${percentText(missedLower, "down")}`), measured: missedLower, limit, unit } as const]
      : []),
    {
      code: "missed-upper-bound",
      effect: missedUpper <= limit ? "clears" : "open",
      text: boundText(`at most ${percentText(missedUpper, "up")}`),
      measured: missedUpper,
      limit,
      unit,
    },
  ];
}

function blindReasons({ figures }: VerdictInput): Reason[] {
  const { blindShare } = figures.evidence;
  if (blindShare < BLIND_SHARE_TOLD) return [];
  const tooBlind = blindShare > MOST_BLIND_SHARE;
  return [
    {
      code: "blind-time",
      effect: tooBlind ? "open" : "clears",
      text: `For ${percentText(blindShare)} of the time the condition could not be known; ${tooBlind ? "that is too much to judge by" : "that time is not counted as seen"}.`,
      measured: blindShare,
      limit: MOST_BLIND_SHARE,
      unit: "share",
    },
  ];
}
