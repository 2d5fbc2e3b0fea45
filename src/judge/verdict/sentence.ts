import { certaintyText } from "../../ground/certainty.js";
import { uncapitalised } from "../../ground/first-letter.js";
import { lookAgainText, monthsText as seenMonthsText } from "./cover-reasons.js";
import { assumedText, clearsByDesign, countedBesideText, needsText } from "./by-design.js";
import { confirmedTimeText, unverifiedText } from "./confirmed-text.js";
import { roadsAheadText } from "./roads-ahead.js";
import { aloneInPractice } from "./single-points.js";
import type { VerdictInput, VerdictResult } from "./verdict.js";
import { actNouns, countText, figureText, limitText, listText, percentText, seenText } from "../rule/words.js";
import type { Verdict } from "../../result/rules.js";

/**
 * The verdict in plain words, with the numbers that decided it: only the gravest reason where it forbids or is still
 * open, both bounds where it clears. Says what the history shows, never what is beyond it.
 */
export function verdictSentence(input: VerdictInput, result: VerdictResult): string {
  const text = { "clear to enable": clearText, "not proven yet": openText, "do not enable": forbiddingText }[result.verdict](input, result);
  const road = result.verdict === "clear to enable" && clearsByDesign(input) && !countingClears(result) ? " by design" : "";
  return `${opening[result.verdict]}${road}: ${text}`;
}

const opening: Readonly<Record<Verdict, string>> = { "clear to enable": "Clear to enable", "not proven yet": "Not proven yet", "do not enable": "Do not enable" };

function clearText(input: VerdictInput, result: VerdictResult): string {
  const { bounds } = result;
  const { confidence, limits } = input;
  if (!countingClears(result)) return clearByDesignText(input, bounds);
  return (
    `${countedText(input)} ${confirmedTimeText(input)} ${verb(input, "means", "mean")} at most ${figureText(bounds.wrongUpper, "up", limits?.wrongPerYear)} a year (limit ${limits === null ? "none" : limitText(limits)}); ` +
    `${failedText(input)} means at most ${percentText(bounds.missedUpper, "up", limits?.missedShare)} (limit ${percentText(limits?.missedShare ?? NaN)}), ` +
    `both ${certaintyText(confidence)}. ${holdsText(input)}`
  );
}

/** Whether counting alone shows that wrong firings stay within their limit. */
function countingClears({ reasons }: VerdictResult): boolean {
  return reasons.some((one) => one.code === "wrong-upper-bound" && one.effect === "clears");
}

function clearByDesignText(input: VerdictInput, bounds: VerdictResult["bounds"]): string {
  const { confidence, limits, design } = input;
  if (design === null) throw new RangeError("Only the road of design clears a rule that counting does not.");
  return (
    `${needsText(input)} at most ${figureText(design.figures?.bound ?? NaN, "up", limits?.wrongPerYear)} a year (limit ${limits === null ? "none" : limitText(limits)}); ` +
    `${failedText(input)} means at most ${percentText(bounds.missedUpper, "up", limits?.missedShare)} (limit ${percentText(limits?.missedShare ?? NaN)}), ` +
    `both ${certaintyText(confidence)}. ${assumedText(design)} ${countedBesideText(input)}. ${holdsText(input)}`
  );
}

/** What a clear verdict holds for, and until when. */
function holdsText({ figures, judgedUntil, timeZone }: VerdictInput): string {
  return `Seen: ${seenMonthsText(figures.evidence.covers.months)}; it holds for months like those. ${lookAgainText(judgedUntil, timeZone)}`;
}

function openText(input: VerdictInput, { bounds, reasons }: VerdictResult): string {
  const { limits, figures, act } = input;
  const noun = actNouns[act];
  const allows = `${verb(input, "allows", "allow")} up to ${figureText(bounds.wrongUpper, "up", limits?.wrongPerYear)} a year`;
  if (limits === null) return `the site file sets no limits for ${act}; ${countedText(input)} ${confirmedTimeText(input)} ${allows}.`;
  const open = (code: string): boolean => reasons.some((one) => one.code === code && one.effect === "open");
  const clock = reasons.find((one) => one.code === "clock-offset");
  if (clock !== undefined) return withinSentence(clock.text.replace(/\.$/, ""), ".");
  if (open("wrong-upper-bound")) {
    const told = [`${countedText(input)} ${confirmedTimeText(input)} ${allows}; the limit is ${limitText(limits)}.`, unverifiedText(input), roadsAheadText(input.claims, limits.wrongPerYear)];
    return `${told.filter((text) => text !== "").join(" ")}${atTimesText(input, open("single-in-practice"))}`;
  }
  if (open("nothing-wanted")) return `no ${noun.one} was wanted ${inTime(input)}, so nothing shows that the rule acts when it should.`;
  if (open("missed-upper-bound")) {
    const more = figures.evidence.moreWantedServed;
    const wait = more === null ? "No number of them can show that the limit is kept." : `Another ${countText(more, `wanted ${noun.one}`, `wanted ${noun.many}`)}, all confirmed and in time, would show it.`;
    return `${failedText(input)} still allows up to ${percentText(bounds.missedUpper, "up", limits.missedShare)}; the limit is ${percentText(limits.missedShare)}. ${wait}`;
  }
  if (open("single-in-practice")) {
    const longest = aloneInPractice(input.inPractice)[0];
    return `${longest?.text ?? "one sensor alone"} would have been enough for ${percentText(longest?.share ?? 0, "up")} of the time when it would have been wrong to ${act}: everything else was already true.`;
  }
  const left = reasons.find((one) => one.effect === "open");
  return withinSentence(left?.text.replace(/\.$/, "") ?? "too little was seen", ".");
}

/**
 * The text as the rest of a sentence. Only our own first words lose their capital: names of signals keep their case.
 */
function withinSentence(text: string, end: string): string {
  return `${/^(For|Fewer|The|Wrong|Missed)\b/.test(text) ? uncapitalised(text) : text}${end}`;
}

/** `3 of 22 wanted unlocks missed`, or `3 of 22 wanted unlocks missed and 2 late`; says how many nobody confirmed. */
function failedText({ act, figures }: VerdictInput): string {
  const { missed, late, count, verified } = figures.wanted;
  const { one, many } = actNouns[act];
  const unconfirmed = count - verified;
  return `${missed} of ${countText(count, `wanted ${one}`, `wanted ${many}`)} missed${late === 0 ? "" : ` and ${late} late`}${unconfirmed === 0 ? "" : ` (${unconfirmed} of the ${count} not confirmed)`}`;
}

/** That more history will not help where one signal or cause alone would at times have been enough. */
function atTimesText({ inPractice, act }: VerdictInput, open: boolean): string {
  const longest = open ? aloneInPractice(inPractice)[0] : undefined;
  return longest === undefined ? "" : ` More history won't help with this: ${longest.text} could sometimes ${act}.`;
}

function forbiddingText(input: VerdictInput, { bounds, reasons }: VerdictResult): string {
  const { singlePoints, act, figures, limits, confidence } = input;
  const breaks = (code: string): boolean => reasons.some((one) => one.code === code && one.effect === "breaks");
  if (breaks("single-signal")) return `a false report from ${aloneText(singlePoints.signals)} would ${act}.`;
  if (breaks("single-cause")) return `a fault of ${aloneText(singlePoints.causes)} would ${act}.`;
  if (breaks("wrong-lower-bound")) {
    const { wrong } = figures.firings;
    const noun = actNouns[act];
    return (
      `${countText(wrong, `wrong ${noun.one}`, `wrong ${noun.many}`)} ${inTime(input)} ${wrong === 1 ? "means" : "mean"} at least ${figureText(bounds.wrongLower, "down", limits?.wrongPerYear)} a year ` +
      `(${certaintyText(confidence)}); the limit is ${limits === null ? "none" : limitText(limits)}.`
    );
  }
  return (
    `${failedText(input)} means at least ${percentText(bounds.missedLower, "down", limits?.missedShare)} ` +
    `(${certaintyText(confidence)}); the limit is ${percentText(limits?.missedShare ?? NaN)}.`
  );
}

/** `no wrong unlock`, `2 wrong unlocks`. */
function countedText({ act, figures }: VerdictInput): string {
  const noun = actNouns[act];
  return countText(figures.firings.wrong, `wrong ${noun.one}`, `wrong ${noun.many}`);
}

function verb({ figures }: VerdictInput, one: string, many: string): string {
  return figures.firings.wrong <= 1 ? one : many;
}

function inTime({ figures }: VerdictInput): string {
  return `in ${seenText(figures.evidence.yearsSeen)}`;
}

function aloneText(names: readonly string[]): string {
  return `${listText(names, "or")} alone`;
}
