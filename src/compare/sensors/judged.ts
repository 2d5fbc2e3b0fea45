import { max } from "d3-array";
import { HOUR_MS, MINUTE_SECONDS, SECOND_MS } from "../../ground/units.js";
import { type Interval, totalMs, union } from "../../ground/intervals.js";
import type { Findings } from "../../result/findings.js";
import type { SensorFinding } from "../../result/sensors.js";
import { OFF } from "../../timeline/timeline.js";
import type { When } from "./when.js";
import { numberText, timesInWords } from "../../judge/rule/words.js";
import { aboutText, sensorWords } from "./words.js";

/** What a sensor is judged by. */
export interface JudgedInput {
  readonly score: Findings["signals"][number];
  readonly when: When;
  readonly findings: Pick<Findings, "mend" | "phantoms" | "bands" | "changes" | "disagreements" | "exports" | "period">;
  /** Whether a signal would have said the opposite with the band that is advised for it. */
  readonly bandWouldMend: (signal: string, stretch: Interval) => boolean;
}

/** The state of a sensor, and the gravest fault it rests on. */
export type Judged = Pick<SensorFinding, "state" | "fault" | "why" | "over">;

/*
 * The thresholds are our own choice: what a household would call broken, and what it would want to see.
 */
/** Wrong at a stretch for this long: broken. */
const BROKEN_MS = 6 * HOUR_MS;
/** Less agreement than this: broken. */
const BROKEN_AGREEMENT = 0.95;
/** From this weight in the mending list on (a rule that erred, or more) a sensor is to be mended. */
const BROKEN_WEIGHT = 1;
/** Known for less of the time than this: broken. */
const BROKEN_KNOWN = 0.8;
/** Wrong at a stretch for this long: look. */
const LONG_MS = HOUR_MS;
/** From this many false reports or missed changes on: look. One is luck, unless it made a rule err. */
const MANY = 2;
/** A smaller share of the changes missed is luck too. */
const LEAST_MISSED_SHARE = 0.01;
/** Known for less of the time than this, or silent for this many hours at a stretch: look. */
const SILENT_KNOWN = 0.95;
const SILENT_HOURS = 6;
/** Broken up this often: look. */
const BROKEN_UP = 10;
/** Differed from another sensor this often while nobody could tell which was wrong: look at both. Our own choice. */
export const DISPUTED = 5;
/** Usually later than this: look. */
const LATE_SECONDS = 3 * MINUTE_SECONDS;
/** An export that lacks more of it than this is the first thing to say. */
const MOST_HIDDEN = 1 - SILENT_KNOWN;
/** Words for a second fault are added while both together stay this short. */
const MOST_LETTERS = 52;

interface Fault {
  readonly fault: SensorFinding["fault"];
  readonly text: string;
  /** When it was so; absent where it is no matter of single times. */
  readonly times?: readonly Interval[];
}

/** Judges one sensor: what is wrong with it, the gravest first, and whether to mend it. What the mending list names is never `fine`. */
export function judgedSensor(given: JudgedInput): Judged {
  const { when, findings } = given;
  const hiddenShare = hiddenShareOf(given);
  // What the export lacks the sensor may have said: that is no silence.
  const score = { ...given.score, knownShare: Math.min(1, given.score.knownShare + hiddenShare) };
  const input = { ...given, score };
  const named = findings.mend.filter((one) => isAbout(one, score.signal));
  const found = faultsOf(input, named.length > 0);
  const isBroken =
    named.some(({ what, weight }) => what !== "pair" && weight >= BROKEN_WEIGHT) ||
    longestMs(when.differed) >= BROKEN_MS ||
    (score.agreement.value ?? 1) < BROKEN_AGREEMENT ||
    score.knownShare < BROKEN_KNOWN;
  const faults = found.length > 0 || !(isBroken || named.length > 0) ? found : [{ fault: "harm" as const, text: "made a rule err" }];
  const [first, second] = faults;
  if (hiddenShare > MOST_HIDDEN && !isBroken) return { state: "look", fault: "unchecked", why: ["its export falls short"], over: null };
  if (first === undefined) return { state: "fine", fault: "none", why: [praise(score)], over: null };
  const isShort = second !== undefined && first.text.length + second.text.length <= MOST_LETTERS;
  const { times = [] } = first;
  const over = times.length === 0 ? null : { from: Math.min(...times.map(({ from }) => from)), to: Math.max(...times.map(({ to }) => to)) };
  return { state: isBroken ? "mend" : "look", fault: first.fault, over, why: isShort ? [first.text, second.text] : [first.text] };
}

function hiddenShareOf({ score, findings: { exports, period } }: JudgedInput): number {
  const own = union((exports ?? []).filter(({ signals }) => signals.includes(score.signal)));
  return totalMs(own) / (period.to - period.from);
}

/** Whether an entry of the mending list is about a signal. */
export function isAbout({ what, target }: Findings["mend"][number], signal: string): boolean {
  return what === "pair" ? target.split(", ").includes(signal) : (what === "signal" || what === "band") && target === signal;
}

function faultsOf(input: JudgedInput, isNamed: boolean): Fault[] {
  const { score, when, findings } = input;
  const words = sensorWords[score.subjectClass];
  const { transitions, silences } = score;
  const enough = isNamed ? 1 : MANY;
  const long = when.differed.filter(({ from, to }) => to - from >= LONG_MS);
  const phantoms = findings.phantoms.filter(({ signal }) => signal === score.signal);
  const saying = (said: "on" | "off"): typeof phantoms => phantoms.filter((one) => one.said === said);
  const [on, off] = [saying("on").length, saying("off").length];
  const brokenUp = transitions.fragmented - off;
  const isMissing = long.length === 0 && transitions.missed >= enough && transitions.missed >= LEAST_MISSED_SHARE * transitions.judged;
  const isSilent = score.knownShare < SILENT_KNOWN || silences.longestHours >= SILENT_HOURS;
  const [lateOn, lateOff] = [score.lagOn.median.value ?? 0, score.lagOff.median.value ?? 0];
  const disputes = findings.disagreements
    .flatMap(({ pairs }) => pairs)
    .filter(({ signals, count }) => (signals as readonly string[]).includes(score.signal) && count >= DISPUTED);
  const changes = findings.changes.filter(({ signal, changed }) => signal === score.signal && changed);
  const late = (does: string, seconds: number): Fault => ({ fault: "late", text: `${does} ${aboutText(seconds * SECOND_MS)} late` });
  return [
    ...(long.length === 0 ? [] : [longText(long, input)]),
    ...(on + off < enough ? [] : [on, off].flatMap((count, i): Fault[] => (count === 0 ? [] : [{ fault: "false reports", text: (i === 0 ? words.falseOn : words.falseOff)(count), times: saying(i === 0 ? "on" : "off") }]))),
    ...(lateOn < LATE_SECONDS ? [] : [late(words.turnsOn, lateOn)]),
    ...(lateOff < LATE_SECONDS ? [] : [late(words.turnsOff, lateOff)]),
    ...(isMissing ? [{ fault: "missed" as const, text: `missed ${numberText(transitions.missed)} of ${transitions.judged} changes` }] : []),
    ...(isSilent ? [{ fault: "silent" as const, text: silentText(score), times: when.silent }] : []),
    ...(brokenUp < BROKEN_UP ? [] : [{ fault: "broken up" as const, text: `on and off ${timesInWords(brokenUp)}` }]),
    ...disputes.map(({ signals, count }): Fault => ({ fault: "disputed", text: `differs from ${signals.find((one) => one !== score.signal) ?? ""} ${timesInWords(count)}` })),
    ...changes.slice(0, 1).map(({ what }): Fault => ({ fault: "changed", text: `its ${what} changed` })),
    ...(score.agreement.value === null ? [{ fault: "unchecked" as const, text: "nothing to check it against" }] : []),
  ];
}

/** A vehicle that reads just beside a band that its own readings do not bear out needs another band, no other sensor. */
function longText(long: When["differed"], { score: { signal, subjectClass }, findings: { bands }, bandWouldMend }: JudgedInput): Fault {
  const worst = long.reduce((a, b) => (b.to - b.from > a.to - a.from ? b : a));
  const length = aboutText(worst.to - worst.from);
  const often = long.length === 1 ? `for ${length}` : `${timesInWords(long.length)}, once ${length}`;
  const isBay = subjectClass === "bay";
  if (worst.said === OFF && isBay) {
    const band = bands.find((one) => one.signal === signal);
    // A meter that reads the empty bay with a vehicle in it is blind, whatever else its readings ask for.
    if (band?.presentHolds === false && band.suggested !== null && bandWouldMend(signal, worst)) return { fault: "band", text: `vehicle outside its band ${often}`, times: long };
    return { fault: "blind", text: `blind ${often}`, times: long };
  }
  return { fault: "stuck", text: `wrongly “${sensorWords[subjectClass][worst.said === OFF ? "off" : "on"]}” ${often}`, times: long };
}

function silentText({ knownShare, silences }: JudgedInput["score"]): string {
  if (knownShare === 0) return "never heard";
  const length = aboutText(silences.longestHours * HOUR_MS);
  return 2 * silences.longestHours >= silences.hours ? `silent for ${length}` : `silent ${timesInWords(silences.count)}, once ${length}`;
}

function praise({ transitions, lagOn, kind, agreement }: JudgedInput["score"]): string {
  if (kind === "stir") return agreement.value === 1 ? "stirred only while somebody was here" : "tells only that somebody stirs";
  const { reference, matched } = transitions;
  if (reference === 0) return "nothing happened, and it said so";
  const late = lagOn.median.value === null || lagOn.median.value < 1 ? "" : `, ${aboutText(lagOn.median.value * SECOND_MS)} late`;
  return `saw ${matched === reference ? "all" : `${matched} of`} ${reference} changes${late}`;
}

function longestMs(all: readonly Interval[]): number {
  return max(all, ({ from, to }) => to - from) ?? 0;
}
