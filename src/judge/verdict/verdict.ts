import { certaintyText } from "../../ground/certainty.js";
import { capitalised } from "../../ground/first-letter.js";
import type { VerdictBounds } from "../evidence/bounds.js";
import { checkedKeeps, verdictBounds, type RuleFigures } from "../evidence/figures.js";
import type { OwnWords } from "../replay/own-words.js";
import { actNouns, countText, figureText, limitText, MOST_NAMED, oneText, percentText, seenText } from "../rule/words.js";
import { designReasons, withoutCounting, type ByDesignInput } from "./by-design.js";
import { countedOverText, unverifiedText } from "./confirmed-text.js";
import { coverReasons, type CoverInput } from "./cover-reasons.js";
import { notedSinglePoints, practicalReasons, singlePointReasons, type SinglePointInput } from "./single-points.js";
import type { Reason, Verdict } from "../../result/rules.js";

/** A rule that was blind for more than this share of the time has not been seen enough. Our own choice. */
const MOST_BLIND_SHARE = 0.1;
/** Less blind or unclear time than this is not worth a line. Our own choice. */
const BLIND_SHARE_TOLD = 0.01;
/**
 * If nobody can say for more than this share of the time whether acting was wanted, too much may have been missed
 * unseen. Our own choice.
 */
const MOST_UNCLEAR_SHARE = 0.1;
/** Whole days may be unclear, where what the rule did on them was checked; but no more than this share. Our own choice. */
const MOST_UNCLEAR_DAYS_SHARE = 0.5;

/** What a verdict is made from. */
export interface VerdictInput extends SinglePointInput, CoverInput, ByDesignInput {
  readonly figures: RuleFigures;
  /** Wanted instants left out because the history ends inside their window. */
  readonly cutOff: number;
  /** Wanted instants that an export hides; none if not given. */
  readonly unjudged?: number;
  /** Clocks that are too far apart to judge by: what was measured, and how to mend it. Empty where there are none. */
  readonly clocks: readonly string[];
  /** Sentences about faults that come in bad periods instead of at a steady rate. Empty where they do not. */
  readonly uneven: readonly string[];
  /** Of the wrong firings, those that only the rule's own `right_when` makes wrong; none if not given. */
  readonly ownWords?: OwnWords;
}

/** A verdict with its reasons and the bounds behind them. */
export interface VerdictResult {
  readonly verdict: Verdict;
  readonly reasons: readonly Reason[];
  readonly bounds: VerdictBounds;
}

/**
 * The verdict, from one-sided bounds at the site's confidence. Wrong firings stay within their limit by counting, or by
 * design (see `clearsByDesign`): then what is open about counting alone decides nothing.
 * - do not enable: a lower bound breaks a limit, or one signal or one shared cause alone can open (unlock, disarm);
 * - clear to enable: every upper bound meets its limit over the time in which firings and misses would have been
 *   confirmed, something was wanted, the rule was not deaf for more than {@link MOST_BLIND_SHARE} of the time
 *   nor in doubt for more than {@link MOST_UNCLEAR_SHARE}, every weekday was seen, no single signal or cause would have
 *   been enough for long in practice (see {@link practicalReasons}), and faults do not come in bad periods;
 * - not proven yet: everything else, and whenever there are no limits to meet. Also whenever clocks that judge one
 *   another are too far apart: the counts are then wrong both ways, and only the rule's structure may still forbid it.
 * A single point of a lock or arm rule is among the reasons but does not decide: the design forbids it for opening
 * only.
 */
export function verdictOf(input: VerdictInput): VerdictResult {
  const bounds = verdictBounds(input.figures, input.confidence);
  const counted = [...wrongReasons(input, bounds), ...missedReasons(input, bounds)].map((one) => (input.clocks.length > 0 && one.effect === "breaks" ? { ...one, effect: "open" as const } : one));
  const all = [
    ...singlePointReasons(input),
    ...clockReasons(input),
    ...counted,
    ...designReasons(input),
    ...practicalReasons(input),
    ...blindReasons(input),
    ...unclearReasons(input),
    ...unevenReasons(input),
    ...coverReasons(input),
    ...ownWordsReasons(input),
    ...notedSinglePoints(input),
  ];
  const reasons = withoutCounting(all, input);
  const some = (effect: Reason["effect"]): boolean => reasons.some((one) => one.effect === effect);
  return { verdict: some("breaks") ? "do not enable" : some("open") ? "not proven yet" : "clear to enable", reasons, bounds };
}

function clockReasons({ clocks }: VerdictInput): Reason[] {
  return clocks.map((text) => ({ code: "clock-offset", effect: "open", text, measured: null, limit: null, unit: "seconds" }));
}

function unevenReasons({ uneven }: VerdictInput): Reason[] {
  return uneven.map((text) => ({ code: "uneven-periods", effect: "open", text, measured: null, limit: null, unit: "periods" }));
}

function unclearReasons(input: VerdictInput): Reason[] {
  const { act, figures, limits, confidence } = input;
  const { unclearShare, unclearDaysShare } = figures.evidence;
  if (unclearShare < BLIND_SHARE_TOLD) return [];
  const tooMuch = unclearShare > MOST_UNCLEAR_SHARE;
  const seen = 1 - unclearDaysShare;
  const betweenShare = seen > 0 ? (unclearShare - unclearDaysShare) / seen : 1;
  // What was wrong on days without a diary would be among the firings checked. What was missed on them is like what was missed on others.
  const daysChecked = tooMuch && unclearDaysShare <= MOST_UNCLEAR_DAYS_SHARE && betweenShare <= MOST_UNCLEAR_SHARE && limits !== null && checkedKeeps(figures, limits.wrongPerYear, confidence);
  const rest = daysChecked
    ? ` Most of that is on days without a diary, and the ${actNouns[act].many} on those days were checked.`
    : tooMuch
      ? ` More than ${percentText(MOST_UNCLEAR_SHARE)} is too much to judge by; a longer diary helps.`
      : "";
  return [
    {
      code: "unclear-time",
      effect: tooMuch && !daysChecked ? "open" : "clears",
      text: `For ${percentText(unclearShare, "up", MOST_UNCLEAR_SHARE)} of the time nobody can tell whether ${oneText(act)} was wanted: neither the diary nor two independent sensors that the rule does not use.${rest}`,
      measured: unclearShare,
      limit: MOST_UNCLEAR_SHARE,
      unit: "share",
    },
  ];
}

function wrongReasons(input: VerdictInput, bounds: VerdictBounds): Reason[] {
  const { act, limits, confidence, figures } = input;
  const noun = actNouns[act];
  const { wrong } = figures.firings;
  const counted = countText(wrong, `wrong ${noun.one}`, `wrong ${noun.many}`);
  const seen = seenText(figures.evidence.yearsSeen);
  const confident = `(${certaintyText(confidence)})`;
  const most = `at most ${figureText(bounds.wrongUpper, "up", limits?.wrongPerYear)} wrong a year ${confident}${clumpText(figures)}${variantsText(figures)}`;
  const upperText = capitalised(`${counted} ${countedOverText(input)}: ${most}`);
  const others = unverifiedText(input);
  const rest = others === "" ? "" : ` ${others}`;
  const measured = Number.isFinite(bounds.wrongUpper) ? bounds.wrongUpper : null;
  const unit = "per year";
  if (limits === null) {
    const text = `The site file sets no limits for ${act}, so there is nothing to judge by. ${upperText}.${rest}`;
    return [{ code: "no-limits", effect: "open", text, measured, limit: null, unit }];
  }
  const limit = limits.wrongPerYear;
  const limitSaid = `the limit is ${limitText(limits)}.`;
  const least = `at least ${figureText(bounds.wrongLower, "down", limit)} a year ${confident}`;
  return [
    ...(bounds.wrongLower > limit
      ? [{ code: "wrong-lower-bound", effect: "breaks", text: `${counted} in ${seen}: ${least}; ${limitSaid}`, measured: bounds.wrongLower, limit, unit } as const]
      : []),
    { code: "wrong-upper-bound", effect: bounds.wrongUpper <= limit ? "clears" : "open", text: `${upperText}; ${limitSaid}${rest}`, measured, limit, unit },
  ];
}

function missedReasons({ act, limits, confidence, figures, cutOff, unjudged = 0 }: VerdictInput, bounds: VerdictBounds): Reason[] {
  const noun = actNouns[act];
  const { missed, late, count, verified } = figures.wanted;
  const rest = [
    ...(cutOff === 0 ? [] : [` Not counted, as the history ends too soon after them: ${cutOff}.`]),
    ...(unjudged === 0 ? [] : [` Not counted, as an export falls short then: ${unjudged}.`]),
  ].join("");
  if (count === 0) {
    const text = `No ${noun.one} was wanted in ${seenText(figures.evidence.yearsSeen)}, so nothing shows that the rule acts when it should.${rest}`;
    return [{ code: "nothing-wanted", effect: "open", text, measured: 0, limit: null, unit: "wanted instants" }];
  }
  if (limits === null) return [];
  const limit = limits.missedShare;
  const boundText = (bound: string): string =>
    `${missed} of ${countText(count, `wanted ${noun.one}`, `wanted ${noun.many}`)} missed${late === 0 ? "" : ` and ${late} late`}` +
    `${verified === count ? "" : `; ${count - verified} of the ${count} not confirmed`}: ${bound} (${certaintyText(confidence)}); the limit is ${percentText(limit)}.${rest}`;
  const { missedLower, missedUpper } = bounds;
  const unit = "share";
  return [
    ...(missedLower > limit
      ? [{ code: "missed-lower-bound", effect: "breaks", text: boundText(`at least ${percentText(missedLower, "down", limit)} (those not confirmed counted as in time)`), measured: missedLower, limit, unit } as const]
      : []),
    {
      code: "missed-upper-bound",
      effect: missedUpper <= limit ? "clears" : "open",
      text: boundText(`at most ${percentText(missedUpper, "up", limit)} of those confirmed`),
      measured: missedUpper,
      limit,
      unit,
    },
  ];
}

/** How wrong firings close to one another were counted. */
function clumpText({ firings, evidence }: RuleFigures): string {
  const { wrongOccasions } = evidence.covers;
  return wrongOccasions.length === firings.wrong ? "" : ` (counted as ${countText(wrongOccasions.length, "occasion", "occasions")}: less than 6 h apart is one)`;
}

function variantsText({ evidence }: RuleFigures): string {
  const { variants } = evidence.covers;
  return variants === 1 ? "" : `, as the best of ${variants} variants tried on this history`;
}

function blindReasons({ figures }: VerdictInput): Reason[] {
  const { blindShare } = figures.evidence;
  if (blindShare < BLIND_SHARE_TOLD) return [];
  const tooBlind = blindShare > MOST_BLIND_SHARE;
  return [
    {
      code: "blind-time",
      effect: tooBlind ? "open" : "clears",
      text: `For ${percentText(blindShare, "up", MOST_BLIND_SHARE)} of the time a sensor was missing, so the rule could have acted unseen; ${tooBlind ? "that is too much to judge by" : "that time is not counted as seen"}.`,
      measured: blindShare,
      limit: MOST_BLIND_SHARE,
      unit: "share",
    },
  ];
}

/**
 * Wrong firings that only `right_when` makes wrong. They decide nothing: the rule is judged by what the site file says.
 */
function ownWordsReasons({ act, figures, ownWords }: VerdictInput): Reason[] {
  if (ownWords === undefined || ownWords.count === 0) return [];
  const { one, many } = actNouns[act];
  const { count, asked } = ownWords;
  const more = asked.length > MOST_NAMED ? ` and ${asked.length - MOST_NAMED} more` : "";
  const text =
    `${count} of ${countText(figures.firings.wrong, `wrong ${one}`, `wrong ${many}`)} ${count === 1 ? "is" : "are"} wrong only because right_when also asks for this: ` +
    `${asked.slice(0, MOST_NAMED).join("; ")}${more}. If you do not mean that, take it out of right_when.`;
  return [{ code: "own-words", effect: "noted", text, measured: count, limit: null, unit: many }];
}
