/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps */
import { ascending, least } from "d3-array";
import type { Interval } from "../../ground/intervals.js";
import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import type { Culprit } from "../../result/culprit.js";
import { durationText } from "../../ground/duration.js";
import { expressionText } from "../../site/expression-text.js";
import { stateAt, stepAt } from "../../timeline/state-at.js";
import { ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { timelineOfPart } from "../rule/evaluate.js";
import type { ClaimLeaf } from "../rule/claims.js";
import { actNouns } from "../rule/words.js";
import { within } from "../replay/firing-outcomes.js";
import { servingWindow, type WantedStretch } from "../replay/acting.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { accountOf } from "../replay/replay.js";
import { didNotHappen, strayFrom, truthAround, type SubjectTruth } from "./event.js";
import { servingValue, type Setting } from "./serving-value.js";
import { smallerFirst, smallestChange, type Failing, type Needed, type SmallestChange } from "./smallest-change.js";
import { closestWays, leafKey, type Way } from "./ways.js";
import { alsoText, cameText, lengthText, saidText, stateOfText, stretchText, timeText, type ReadText } from "./words.js";

/** A window that ended, or a turn that came, further away than this had nothing to do with the event. Our own choice. */
const REACH_MS = HOUR_MS;
/** A state that ended longer ago than this was that of an earlier event. Our own choice. */
const STATE_REACH_MS = 3 * MINUTE_MS;

/** A claim of a way, with the timeline that tells whether it held. */
interface NeededClaim extends Needed {
  readonly leaf: ClaimLeaf;
}

/** A culprit without its words. */
type Found = Pick<Culprit, "what" | "from" | "to" | "bySeconds" | "wouldServeSeconds">;

const noReading: ReadText = () => null;

/**
 * What a wanted instant that was late or missed came down to. Of the ways in which the rule could have fired, those
 * count that belong closest to what truly happened then ({@link closestWays}); of these, the one that needed the fewest
 * and smallest changes, at the instant of the serving window at which it did ({@link smallestChange}); of its failing
 * conditions, the one that was furthest from holding.
 */
export function culpritOf(stretch: WantedStretch, rule: RuleOverHistory, read: ReadText = noReading): Culprit {
  const { site, tolerance, claims } = rule;
  const whole = servingWindow(stretch.from, tolerance);
  const window = { from: whole.from, to: Math.max(whole.from, Math.min(whole.to, stretch.to - 1)) };
  if (isOnWithin(rule.replayed.condition, window)) return nobody("already true", "The condition was already true, so it did not become true again.");
  const truthOf = truthAround(rule, stretch);
  const subjects = new Map(site.signals.map(({ id, subject }) => [id, subject]));
  const ways = closestWays(claims, strayFrom(stretch.from, window, truthOf, (signal) => subjects.get(signal) ?? null, site.bridgeMs));
  const best = truthfulChange(ways, window, rule, (signal) => truthOf(subjects.get(signal) ?? signal));
  const [worst, ...others] = best?.change.failing ?? [];
  if (best === null || worst === undefined) return nobody("already true", "The condition was already true, so it did not become true again.");
  const signals = [...new Set(others.map(({ condition }) => condition.leaf.claim.signal))].filter((signal) => signal !== worst.condition.leaf.claim.signal).sort();
  const context = { stretch, rule, window, truthOf, read, at: best.change.at, alone: others.length === 0, needed: best.needed };
  const found = foundOf(worst, context);
  const { leaf } = worst.condition;
  if (found.what === "did not happen") return { ...nobody(found.what, notSoText(leaf, context)), condition: conditionText(leaf, site), from: found.from, to: found.to };
  return {
    signal: leaf.claim.signal,
    condition: conditionText(leaf, site),
    ...found,
    signals,
    text: `${textOf(leaf, found, context)}${alsoText(signals, "Also in the way")}`,
  };
}

/** A way of firing, and what it lacked where it lacked least. */
interface WayChange {
  readonly needed: readonly NeededClaim[];
  readonly change: SmallestChange<NeededClaim>;
}

/**
 * The smallest change of all ways, at an instant at which the failing claims could have been true: a sensor that tells at once
 * when somebody comes cannot be asked to tell it earlier, so the others' windows are looked at from then on.
 */
function truthfulChange(ways: readonly Way[], window: Interval, rule: RuleOverHistory, truthOf: (signal: string) => Timeline): WayChange | null {
  const changes = ways.flatMap((way): WayChange[] => {
    const needed = neededOf(way, rule);
    const change = smallestChange(needed, window, REACH_MS);
    return change === null ? [] : [{ needed, change }];
  });
  const best = least(changes, (a, b) => smallerFirst(a.change, b.change) || ascending(failingKey(a.change), failingKey(b.change))) ?? null;
  if (best === null) return null;
  const happens = Math.max(...best.change.failing.map((failing) => comesTrue(failing, best.change.at, truthOf)));
  return happens > best.change.at && happens <= window.to ? (truthfulChange(ways, { from: happens, to: window.to }, rule, truthOf) ?? best) : best;
}

/** When what a sensor was still to say truly came to be so, if that was after the instant; else minus infinity. */
function comesTrue({ condition: { leaf: { claim } }, endedMs, comesMs }: Failing<NeededClaim>, at: number, truthOf: (signal: string) => Timeline): number {
  if (endedMs <= comesMs || !Number.isFinite(comesMs) || claim.form === "mixed" || claim.form === "not-turned") return -Infinity;
  const aimed = claim.form === "turned" ? claim.to : claim.state;
  const truth = truthOf(claim.signal);
  const step = stepAt(truth, at);
  return truth.states[step] === 1 - aimed && truth.states[step + 1] === aimed ? truth.times[step + 1]! : -Infinity;
}

function conditionText({ holdsIn, atom }: ClaimLeaf, site: RuleOverHistory["site"]): string {
  return holdsIn === ON ? expressionText(atom, site) : `not (${expressionText(atom, site)})`;
}

/** Whether the timeline is on at some instant of the closed window. */
function isOnWithin(timeline: Timeline, { from, to }: Interval): boolean {
  return within(timeline, from, to).firstOn !== null;
}

/** A culprit that is no signal. */
export function nobody(what: Culprit["what"], text: string): Culprit {
  return { signal: null, condition: "", what, from: null, to: null, bySeconds: null, wouldServeSeconds: null, signals: [], text };
}

interface Context {
  readonly stretch: WantedStretch;
  readonly rule: RuleOverHistory;
  readonly window: Interval;
  readonly truthOf: SubjectTruth;
  readonly read: ReadText;
  /** The instant at which least was missing. */
  readonly at: number;
  /** Nothing else was missing then. */
  readonly alone: boolean;
  readonly needed: readonly NeededClaim[];
}

function neededOf(way: Way, { replayed }: RuleOverHistory): NeededClaim[] {
  return way.map((leaf) => ({ key: leafKey(leaf), leaf, holdsIn: leaf.holdsIn, timeline: timelineOfPart(leaf.atom, replayed.parts), reachMs: leaf.claim.form === "throughout" ? STATE_REACH_MS : REACH_MS }));
}

function failingKey({ failing }: SmallestChange<NeededClaim>): string {
  return failing.map(({ condition }) => condition.key).join("\n");
}

/** What was the matter with the failing claim, in numbers. */
function foundOf(failing: Failing<NeededClaim>, context: Context): Found {
  const { endedMs, comesMs, condition: { leaf } } = failing;
  const { claim, atom, holdsIn } = leaf;
  const live = accountOf(context.rule, context.rule.history.accounts, claim.signal).live;
  const nothing = { from: null, to: null, bySeconds: null, wouldServeSeconds: null };
  if (claim.form === "mixed" || claim.form === "not-turned") return { what: "other", ...nothing };
  const ended = Number.isFinite(endedMs) && endedMs <= comesMs;
  const windowed = atom.op === "turned" || atom.recentlyMs !== null;
  if (ended) {
    const length = atom.op === "turned" ? atom.withinMs : (atom.recentlyMs ?? 0);
    const setting: Setting = atom.op === "turned" ? "withinMs" : "recentlyMs";
    const serves = context.alone && holdsIn === ON ? servingValue(context.rule, context.stretch, atom, setting, length + endedMs) : null;
    return { what: windowed ? "window ended" : "no longer so", from: context.at - endedMs + 1, to: null, bySeconds: wholeSeconds(endedMs - 1), wouldServeSeconds: seconds(serves) };
  }
  const truth = context.truthOf(subjectOf(claim.signal, context));
  if (didNotHappen(leaf, truth, context.window, context.rule.site.bridgeMs)) {
    const { from, to } = stretchAt(truth, context.at);
    return { what: "did not happen", ...nothing, from, to };
  }
  const aimed = claim.form === "turned" ? claim.to : claim.state;
  const said = stretchAt(live, context.at);
  if (said.state === UNKNOWN) return { what: "silent", ...nothing, from: said.from, to: said.to };
  if (Number.isFinite(comesMs)) {
    const held = atom.op === "is" && atom.heldMs !== null && holdsIn === ON ? atom.heldMs : 0;
    const turnedAt = context.at + comesMs - held;
    if (held > 0 && turnedAt <= context.at) {
      const serves = context.alone ? servingValue(context.rule, context.stretch, atom, "heldMs", context.at - turnedAt) : null;
      return { what: "held too long", from: turnedAt, to: null, bySeconds: wholeSeconds(comesMs), wouldServeSeconds: seconds(serves) };
    }
    return { what: "too late", from: turnedAt, to: null, bySeconds: wholeSeconds(comesMs), wouldServeSeconds: null };
  }
  // A turn needs the opposite before: one that had said so for long could not turn.
  if (claim.form === "turned" && said.state === claim.to) return { what: "already so", ...nothing, from: said.from };
  const lied = lieWithin(said, truth, aimed, context.stretch.from);
  return { what: "said the opposite", ...nothing, from: lied.from, to: lied.to };
}

function seconds(ms: number | null): number | null {
  return ms === null ? null : ms / SECOND_MS;
}

function wholeSeconds(ms: number): number {
  return Math.round(ms / SECOND_MS);
}

function subjectOf(signal: string, { rule }: Context): string {
  return rule.site.signals.find(({ id }) => id === signal)?.subject ?? signal;
}

/** A stretch of time; null where it reaches to the end of the history. */
interface OpenStretch {
  readonly from: number | null;
  readonly to: number | null;
}

/** A step of a timeline. */
interface SaidStretch extends OpenStretch {
  readonly state: number;
}

/** What two stretches that meet have in common. */
export function overlapOf(one: OpenStretch, other: OpenStretch): OpenStretch {
  const from = Math.max(one.from ?? -Infinity, other.from ?? -Infinity);
  const to = Math.min(one.to ?? Infinity, other.to ?? Infinity);
  return { from: Number.isFinite(from) ? from : null, to: Number.isFinite(to) ? to : null };
}

/** The step in force at an instant. */
export function stretchAt(timeline: Timeline, at: number): SaidStretch {
  const step = stepAt(timeline, at);
  return { state: timeline.states[step]!, from: step === 0 ? null : timeline.times[step]!, to: timeline.times[step + 1] ?? null };
}

/** The part of what was said in which the opposite was true, around the wanted instant; all of it where nobody can tell. */
function lieWithin(said: OpenStretch, truth: Timeline, aimed: 0 | 1, wantedAt: number): OpenStretch {
  if (stateAt(truth, wantedAt) !== aimed) return said;
  return overlapOf(said, stretchAt(truth, wantedAt));
}

function textOf({ claim, atom }: ClaimLeaf, found: Found, context: Context): string {
  const { rule: { site, spec }, stretch } = context;
  const { signal } = claim;
  if (claim.form === "mixed" || claim.form === "not-turned") return `This was false: ${claim.form === "mixed" ? "" : "not "}(${expressionText(atom, site)}).`;
  const word = stateOfText(signal, claim.form === "turned" ? claim.to : claim.state, site);
  const by = lengthText((found.bySeconds ?? 0) * SECOND_MS);
  const value = found.wouldServeSeconds === null ? null : durationText(found.wouldServeSeconds * SECOND_MS);
  const none = "no longer window would have helped";
  const serves = value === null ? "a longer one alone would not have helped" : `${value} would have been enough`;
  switch (found.what) {
    case "window ended":
      return `The ${durationText(atom.op === "turned" ? atom.withinMs : (atom.recentlyMs ?? 0))} window of ${signal} ended ${by} before ${lastText(context)}: ${serves}.`;
    case "no longer so":
      return `${signal} had stopped saying ${word} ${by} before ${lastText(context)}: ${value === null ? "looking back alone would not have helped" : `“recently: ${value}” would have been enough`}.`;
    case "held too long":
      return `${signal} had not yet said ${word} for ${durationText(atom.op === "is" ? (atom.heldMs ?? 0) : 0)}; ${by} were missing: ${value === null ? "a shorter time alone would not have helped" : `${value} would have been enough`}.`;
    case "too late": {
      const after = (found.from ?? stretch.from) - stretch.from;
      const when = after >= 0 ? `${lengthText(after)} after` : `${lengthText(-after)} before`;
      return `${signal} turned ${word} at ${timeText(found.from ?? stretch.from, site)}, ${when} the ${actNouns[spec.act].one} was needed, and ${by} too late: ${none}.`;
    }
    case "silent":
      return `${signal} was silent ${stretchText(found.from, found.to, site)}: ${none}.`;
    case "already so":
      return `${signal} had already said ${word} ${found.from === null ? "from the beginning" : `for ${lengthText(stretch.from - found.from)}`}, so it could not turn ${word}: ${none}.`;
    default: {
      const opposite = stateOfText(signal, claim.form === "turned" ? opposed(claim.to) : opposed(claim.state), site);
      const reading = context.read(signal, found.from ?? context.window.from, found.to ?? context.window.to);
      return `${saidText(signal, reading, opposite)} ${stretchText(found.from, found.to, site)}: ${none}.`;
    }
  }
}

/** What the rule asks for and did not happen; no sensor is to blame. */
function notSoText({ claim }: ClaimLeaf, context: Context): string {
  if (claim.form === "mixed" || claim.form === "not-turned") return "";
  const { rule: { site }, at } = context;
  const subject = subjectOf(claim.signal, context);
  const truth = stretchAt(context.truthOf(subject), at);
  const was = stateOfText(claim.signal, truth.state === ON ? 1 : 0, site);
  const asked = claim.form === "turned" ? `did not turn ${stateOfText(claim.signal, claim.to, site)}` : `was not ${stateOfText(claim.signal, claim.state, site)}`;
  return `${subject} ${asked} then: it was ${was} ${stretchText(truth.from, truth.to, site)}. No sensor is to blame; the rule asks for more than happened.`;
}

function opposed(state: 0 | 1): 0 | 1 {
  return state === 1 ? 0 : 1;
}

/** What came at the instant at which least was missing: the last of the other claims to come to hold. */
function lastText({ needed, at, window, rule: { site } }: Context): string {
  const came = needed.filter(({ timeline, holdsIn }) => stateAt(timeline, at) === holdsIn && timeline.times[stepAt(timeline, at)] === at);
  const [last] = came.sort((a, b) => ascending(a.key, b.key));
  if (last !== undefined) return cameText(last.leaf.claim, site);
  return at === window.from ? "the earliest moment that counts" : timeText(at, site);
}
