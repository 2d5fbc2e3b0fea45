/**
 * The second road to a verdict. Counting asks how often the rule was wrong. This one asks how often two independent
 * parts of it must be wrong at once, from how often each was wrong alone: a month says much more about that.
 */
import { rateLowerBound } from "../../statistics/rate.js";
import { poissonTail } from "../../statistics/tails.js";
import { nothingStated } from "../../site/stated.js";
import type { DesignCondition, DesignFigures, DesignHistory, DesignRoad, PartHistory } from "../../result/design.js";
import type { Timeline } from "../../timeline/timeline.js";
import type { GapFinding } from "../../result/gap.js";
import { durationText } from "../../ground/duration.js";
import { SECOND_MS } from "../../ground/units.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { countText, figureText, percentText, timesText } from "../rule/words.js";
import { unverifiedTakenAsWrong, type RuleFigures } from "../evidence/figures.js";
import { confirmedYears } from "../evidence/verifiable.js";
import { commonCauseBound, evenBound, timeOfDayBound } from "./bounds.js";
import { coverOf } from "./cover.js";
import { keptDays } from "./day-types.js";
import { designHistory, heardOf } from "./history.js";
import { sharedDaysChance } from "./independence.js";
import type { SignalLags } from "../gap/gap.js";
import { splitRule } from "./parts.js";
import { provokedTests, testTime, type Provoked } from "./provoked.js";
import { slidEstimate } from "./slides.js";

/**
 * The share of false reports that also reach the other part, where the site file states none. Published values are 1 to
 * 10 % (IEC 61508-6 annex D, from memory); the largest of these.
 */
export const USUAL_COMMON_SHARE = 0.1;

/** Days alike are only seen in time: after one month half of them are missed, after three 8 %. Our own choice. */
const LEAST_DAYS = 84;
const LEAST_MONTHS = 3;

/** Days with more of both parts than chance explains this often close the road. Our own choice. */
const SHARED_DAYS_CHANCE = 0.05;
/** Verified wrong firings that the bound makes rarer than this contradict it. Our own choice. */
const CONTRADICTION_CHANCE = 0.05;

/** One wrong firing may be chance whatever the estimate; from two on they are held against it. Our own choice. */
const LEAST_TOGETHER = 2;

/** At every hour of the day somebody outside the rule must be able to tell for this share of the time. Our own choice. */
const LEAST_CONFIRMED = 0.5;

/** What the road needs to know beside the rule and its history. */
export interface DesignContext {
  /** The usual lag of each signal. */
  readonly lags: SignalLags;
  /** Pairs of signals found to depend on each other. */
  readonly seen: readonly (readonly [string, string])[];
  /** Shared causes that somebody let fail on purpose. */
  readonly tests: readonly Provoked[];
}

/** The road of design of a rule over one period, without its figures: those need the verified firings. */
export function designRoad(rule: RuleOverHistory, { lags, seen, tests }: DesignContext, gap: GapFinding): Omit<DesignRoad, "figures"> {
  const stated = rule.spec.stated ?? nothingStated;
  const split = splitRule(rule, seen);
  const said = {
    commonShare: stated.commonCause?.atMostShare ?? USUAL_COMMON_SHARE,
    commonShareBecause: stated.commonCause?.because ?? null,
    noSharedHoursBecause: stated.noSharedHours?.because ?? null,
  };
  if ("why" in split) return { ...said, tests: [], conditions: [{ code: "parts", holds: false, text: split.why }], history: null };
  const unmeasured = rule.signals.filter((signal) => !lags.has(signal));
  const { holds, text, line } = coverOf(rule, lags);
  const heard = split.parts.map((part) => heardOf(part, rule)) as [Timeline, Timeline];
  const provoked = provokedTests(tests, heard, rule.standard.confidence);
  return {
    ...said,
    tests: provoked,
    conditions: [
      { code: "parts", holds: true, text: "It takes a false report about a vehicle and one about a person at the same time, and nothing stated or seen makes both wrong at once." },
      {
        code: "lags",
        holds: unmeasured.length === 0,
        text: unmeasured.length === 0 ? "How late each of its sensors reports was measured." : `How late ${unmeasured.join(", ")} ${unmeasured.length === 1 ? "reports" : "report"} was not measured: too few arrivals were seen.`,
      },
      { code: "cover", holds, text, ...(line === undefined ? {} : { line }) },
      gapCondition(gap),
      ...testsCondition(provoked),
    ],
    history: designHistory(rule, split.parts, lags, tests.map(testTime)),
  };
}

/** Whether the gap search leaves the road open. */
export function gapCondition({ searched, why, scene, freeUntil }: GapFinding): DesignCondition {
  if (!searched) return { code: "gap", holds: false, text: why ?? "Whether it can act wrongly while every sensor tells the truth was not checked." };
  if (scene !== null) return { code: "gap", holds: false, text: `Even while every sensor tells the truth it can act wrongly: ${scene.text}` };
  const limits = freeUntil.flatMap(({ signals, seconds, measuredSeconds }) => (seconds === null ? [] : [`${signals.join(", ")} at most ${durationText(seconds * SECOND_MS)} late (measured: up to ${durationText(Math.ceil(measuredSeconds) * SECOND_MS)})`]));
  return { code: "gap", holds: true, text: `It cannot act wrongly while every sensor tells the truth${limits.length === 0 ? "" : `, as long as none is later than this: ${limits.join("; ")}`}.` };
}

function testsCondition(tests: DesignRoad["tests"]): DesignCondition[] {
  if (tests.length === 0) return [];
  const failed = tests.filter((one) => one.reachedBoth > 0);
  const text =
    failed.length === 0
      ? tests.map(({ cause, made, atMostShare }) => `${cause} failed on purpose ${timesText(made)}, and never made both parts report falsely: at most ${percentText(atMostShare, "up")} of its failures do.`)
      : failed.map(({ cause, made, reachedBoth }) => `In ${reachedBoth} of ${countText(made, "test", "tests")} a failure of ${cause} made both parts report falsely.`);
  return [{ code: "tests", holds: failed.length === 0, text: text.join(" ") }];
}

/** What a verdict holds a rule to. */
interface Held {
  readonly confidence: number;
  readonly limitPerYear: number | null;
}

/** What somebody outside the rule could tell of its firings. */
export interface Confirmed {
  readonly wrong: number;
  /** Firings that nobody confirmed, if they are more than the hours in which nobody could tell explain. */
  readonly unconfirmed: number;
  /** Years in which wrong ones would have been confirmed. */
  readonly years: number;
  /** Share of the time seen in which a firing would have been confirmed, at the hour of the day at which it is least. */
  readonly leastShare: number;
}

/** The same of a rule's figures. */
export function confirmedOf(figures: RuleFigures): Confirmed {
  const { yearsSeen, yearsConfirmed, covers } = figures.evidence;
  return {
    wrong: figures.firings.wrong,
    unconfirmed: unverifiedTakenAsWrong(figures),
    years: confirmedYears(covers),
    leastShare: yearsSeen === 0 ? 0 : yearsConfirmed / yearsSeen,
  };
}

/** What the site file states about the parts, or what is taken instead. */
type Assumed = Pick<DesignRoad, "commonShare" | "noSharedHoursBecause">;

/** The upper bound a year, what chance and a common cause add to it, and what a common cause would add if it had every false report. */
export function designBound(
  history: DesignHistory,
  { commonShare, noSharedHoursBecause }: Assumed,
  confidence: number,
): { readonly bound: number; readonly byChance: number; readonly byCommonCause: number; readonly perShare: number } {
  // A third of the permitted error each for the two parts and for the common cause.
  const together = 1 - ((1 - confidence) * 2) / 3;
  const alone = 1 - (1 - confidence) / 3;
  const byChance = noSharedHoursBecause === null ? timeOfDayBound(history, together) : evenBound(history, together);
  const perShare = commonCauseBound(history, 1, alone);
  const byCommonCause = commonShare * perShare;
  return { bound: byChance + byCommonCause, byChance, byCommonCause, perShare };
}

/** The part with fewer false reports; null where both have as many. */
function rarerPart({ parts: [a, b] }: DesignHistory): PartHistory["name"] | null {
  const [ofA, ofB] = [a, b].map(({ stretches }) => stretches.filter(({ explained }) => !explained).length) as [number, number];
  return ofA === ofB ? null : (ofA < ofB ? a : b).name;
}

/** Whether enough was seen for the bad days of both parts to show. */
export function seenLongEnough(days: number, months: number): boolean {
  return months >= LEAST_MONTHS && days >= LEAST_DAYS;
}

/** The figures over a history of one period, or of several joined. */
export function designFigures(
  history: DesignHistory,
  stated: Assumed,
  months: number,
  confirmed: Confirmed,
  { confidence, limitPerYear }: Held,
): DesignFigures {
  const { bound, byChance, byCommonCause, perShare } = designBound(history, stated, confidence);
  const slid = slidEstimate(history);
  const chance = sharedDaysChance(history);
  const days = keptDays(history.days);
  const room = limitPerYear === null ? -1 : limitPerYear - byChance;
  return {
    conditions: [
      ...monthsCondition(days, months),
      {
        code: "shared-days",
        holds: chance > SHARED_DAYS_CHANCE,
        text:
          chance > SHARED_DAYS_CHANCE
            ? "False reports of the two parts do not fall on the same days more often than by chance."
            : `False reports of the two parts fall on the same days: chance would do that at most ${percentText(chance, "up")} of the time.`,
      },
      {
        code: "true-together",
        holds: history.trueTogether === 0,
        text: history.trueTogether === 0 ? "No real event set off both parts while acting would have been wrong." : `Real events set off both parts together ${timesText(history.trueTogether)} while acting would have been wrong.`,
      },
      ...confirmedConditions(confirmed, bound, slid),
    ],
    bound: finite(bound),
    byChance: finite(byChance),
    byCommonCause: finite(byCommonCause),
    slid,
    breakEven: room <= 0 || !Number.isFinite(room) ? null : Math.min(1, room / perShare),
    rarer: rarerPart(history),
    days,
    months,
    sharedDaysChance: chance,
  };
}

function monthsCondition(days: number, months: number): DesignCondition[] {
  const enough = seenLongEnough(days, months);
  return [
    {
      code: "months",
      holds: enough,
      text: enough
        ? `${days} days over ${months} months were seen.`
        : `${days} days over ${months} ${months === 1 ? "month" : "months"} were seen; it takes ${LEAST_DAYS} days over ${LEAST_MONTHS} months to see whether both parts have the same bad days.`,
    },
  ];
}

/** The figures if outcomes of firings were others: what was heard of the parts stays as it is. */
export function withConfirmed(figures: DesignFigures, confirmed: Confirmed): DesignFigures {
  const kept = figures.conditions.filter(({ code }) => !confirmedCodes.has(code));
  return { ...figures, conditions: [...kept, ...confirmedConditions(confirmed, figures.bound ?? Infinity, figures.slid)] };
}

/** The conditions that rest on what was confirmed. */
const confirmedCodes: ReadonlySet<DesignCondition["code"]> = new Set(["contradicted", "wrong-together", "unconfirmed"]);

function confirmedConditions({ wrong, unconfirmed, years, leastShare }: Confirmed, bound: number, slid: number | null): DesignCondition[] {
  const moreThan = (count: number, perYear: number): boolean => count > 0 && poissonTail(count, perYear * years) < CONTRADICTION_CHANCE;
  return [
    contradiction(wrong, years, moreThan(wrong, bound)),
    wrongTogether(wrong, slid === null ? null : slid * years, slid !== null && wrong >= LEAST_TOGETHER && moreThan(wrong, slid)),
    unconfirmedCondition(unconfirmed, leastShare, unconfirmed > 0 && moreThan(wrong + unconfirmed, bound)),
  ];
}

/**
 * The bound may leave room for a few wrong firings and yet they need not be chance: a cause that makes both parts wrong at once, in
 * spells with weeks between, is seen too seldom to break the bound. Once it is seen, an assumed share of such causes proves nothing.
 */
function wrongTogether(wrong: number, byChance: number | null, seen: boolean): DesignCondition {
  return {
    code: "wrong-together",
    holds: !seen,
    text: seen
      ? `Both parts were wrong together ${timesText(wrong)}, where chance alone explains about ${figureText(byChance ?? 0, "up")}: something makes both wrong at once. Find what they share, and mend or state it, before relying on a proof by design.`
      : "Both parts were not wrong together more often than chance explains.",
  };
}

function contradiction(wrong: number, years: number, contradicted: boolean): DesignCondition {
  return {
    code: "contradicted",
    holds: !contradicted,
    text: contradicted
      ? `${wrong} confirmed wrong ${wrong === 1 ? "firing is" : "firings are"} more than such faults explain: at least ${figureText(rateLowerBound(wrong, years, 0.95), "down")} a year were seen.`
      : wrong === 0 ? "No confirmed wrong firing speaks against it." : "The confirmed wrong firings are no more than such faults explain.",
  };
}

/**
 * Parts that are wrong together with those who should tell look right: nothing above sees them. So somebody must be able
 * to tell, and what nobody confirmed is held against the bound as counting does.
 */
function unconfirmedCondition(unconfirmed: number, leastShare: number, tooMany: boolean): DesignCondition {
  const code = "unconfirmed";
  if (leastShare < LEAST_CONFIRMED) {
    return { code, holds: false, text: `At some hour of the day nobody outside the rule could say for more than ${percentText(1 - LEAST_CONFIRMED)} of the time whether acting was right: if both parts were wrong together then, nobody would have seen it.` };
  }
  return tooMany
    ? { code, holds: false, text: `Nobody could confirm ${countText(unconfirmed, "firing", "firings")}, more than the hours in which nobody can tell explain. If they were wrong, they would be more than such faults explain: say in the diary what happened.` }
    : { code, holds: true, text: "What nobody could confirm does not speak against it." };
}

/** What the rule's structure is held to, and what its history is: what fails is first. */
export function failedConditions({ conditions }: Pick<DesignRoad, "conditions">, figures: DesignFigures | null): DesignCondition[] {
  return [...conditions, ...(figures?.conditions ?? [])].filter((one) => !one.holds);
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
