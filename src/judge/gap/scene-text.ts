import { lookUp } from "../../ground/look-up.js";
import { MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import { durationText } from "../../ground/duration.js";
import type { Act, SubjectClass } from "../../site/site.js";
import type { PreparedRule } from "../rule/prepare.js";
import { capitalised } from "../../ground/first-letter.js";
import type { ChangePlace, SceneChange, SceneSubject, SignalLags } from "./gap.js";
import { shortest } from "./plainest.js";
import type { GapQuestion } from "./question.js";
import { isGap } from "./scene.js";

/** A lag up to here goes without saying, and what it tells of happens "now". Our own choice. */
const UNSAID_MS = MINUTE_MS;

const actVerbs: Readonly<Record<Act, string>> = { unlock: "unlocks", lock: "locks", disarm: "disarms", arm: "arms" };

/** How a change to on or off is told of: now, and in the past. The name stands where the class puts it. */
type Verbs = (name: string, again: boolean) => { readonly now: string; readonly past: string };

const verbs: Readonly<Record<SubjectClass, { readonly on: Verbs; readonly off: Verbs }>> = {
  person: {
    on: (name, again) => ({ now: `${name} comes ${again ? "back" : "home"}`, past: `${name} came ${again ? "back" : "home"}` }),
    off: (name, again) => ({ now: `${name} leaves${again ? " again" : ""}`, past: `${name} left${again ? " again" : ""}` }),
  },
  bay: {
    on: (name, again) => ({ now: `a vehicle drives ${again ? "back " : ""}into ${name}`, past: `a vehicle drove ${again ? "back " : ""}into ${name}` }),
    off: (name, again) => ({ now: `the vehicle leaves ${name}${again ? " again" : ""}`, past: `the vehicle left ${name}${again ? " again" : ""}` }),
  },
  door: {
    on: (name, again) => ({ now: `${name} opens${again ? " again" : ""}`, past: `${name} opened${again ? " again" : ""}` }),
    off: (name, again) => ({ now: `${name} closes${again ? " again" : ""}`, past: `${name} closed${again ? " again" : ""}` }),
  },
};

/**
 * The scene as one would tell it: what sets the rule off, what else happened and how late it was told, and what has to
 * stand as it does. Names are given as they are: the code that prints the text makes it inert.
 */
export function sceneText(scene: readonly SceneSubject[], trigger: ChangePlace, question: GapQuestion, { spec }: Pick<PreparedRule, "spec">, lags: SignalLags): string {
  const moving = scene.filter(({ changes }) => changes.length > 0);
  const inOrder = [...moving.filter(({ subject }) => subject === trigger.subject), ...moving.filter(({ subject }) => subject !== trigger.subject)];
  const classOf = new Map(question.subjects.map((one) => [one.subject, one.class]));
  const sentences = inOrder.map((one) => subjectText(one, lookUp(classOf, one.subject), trigger, spec.act, lags));
  const standing = scene.filter((one) => one.changes.length === 0 && one.first === 1 && !isGap(scene.map((other) => (other === one ? { ...one, first: 0 } : other)), trigger, question));
  return [...sentences, ...standing.map(({ subject }) => standingText(subject, lookUp(classOf, subject)))].map((text) => `${capitalised(text)}.`).join(" ");
}

function subjectText({ subject, first, changes }: SceneSubject, subjectClass: SubjectClass, trigger: ChangePlace, act: Act, lags: SignalLags): string {
  const told = changes.map((change, i) => {
    const isTrigger = trigger.subject === subject && trigger.change === i;
    const to = i % 2 === 0 ? 1 - first : first;
    const name = nameText(subject, subjectClass);
    const words = verbs[subjectClass][to === 1 ? "on" : "off"](name, i > 0);
    const text = [changeText(change, words, isTrigger && i === changes.length - 1, act), ...tellingTexts(change, lags)].join("; ");
    return i > 0 && text.startsWith(`${name} `) ? text.slice(name.length + 1) : text;
  });
  return told.join("; then ");
}

/** "Now" is only what sets the rule off and is not followed by anything. */
function changeText({ at, told }: SceneChange, words: ReturnType<Verbs>, isNow: boolean, act: Act): string {
  if (at > 0) return `${words.now} ${aboutText(at)} after it ${actVerbs[act]}`;
  if (told.some((one) => one.at > 0)) return at === 0 ? `${words.now} just as it ${actVerbs[act]}` : `${words.now} ${aboutText(-at)} before it ${actVerbs[act]}`;
  const now = isNow && told.some((one) => one.at === 0);
  if (now && -at <= UNSAID_MS) return words.now;
  return at === 0 ? `${words.now} at that moment` : `${words.past} ${aboutText(-at)} ago${now ? ", and this is reported only now" : ""}`;
}

/** What its signals make of a change, where that is not just as it should be. Signals that do the same share a phrase. */
function tellingTexts({ at, told }: SceneChange, lags: SignalLags): string[] {
  const bySaying = new Map<string, string[]>();
  for (const one of told) {
    const saying = sayingOf(one.at - at, at, one.at, shortest(lookUp(lags, one.signal)));
    if (saying !== null) bySaying.set(saying, [...(bySaying.get(saying) ?? []), one.signal]);
  }
  return [...bySaying].map(([saying, signals]) => `${signals.join(" and ")} ${saying.replace("HAS", signals.length > 1 ? "have" : "has")}`);
}

function sayingOf(lagMs: number, at: number, toldAt: number, usualMs: number): string | null {
  if (toldAt > 0) return at > 0 ? null : "HAS not reported it yet";
  if (lagMs < 0) return `reported it ${aboutText(-lagMs)} early`;
  return lagMs > usualMs || lagMs > UNSAID_MS ? `reported it ${aboutText(lagMs)} late` : null;
}

function standingText(subject: string, subjectClass: SubjectClass): string {
  const name = nameText(subject, subjectClass);
  return subjectClass === "door" ? `all this time ${name} is open` : subjectClass === "bay" ? `all this time ${name} is occupied` : `all this time ${name} is here`;
}

/** People are called by their names. */
function nameText(subject: string, subjectClass: SubjectClass): string {
  return subjectClass === "person" ? capitalised(subject) : subject;
}

/** A duration; "just under 16 min" for one that is a second short of whole minutes. */
function aboutText(ms: number): string {
  const past = ms % MINUTE_MS;
  if (ms >= MINUTE_MS - SECOND_MS && past >= MINUTE_MS - SECOND_MS) return `just under ${durationText(ms - past + MINUTE_MS)}`;
  if (ms > MINUTE_MS && past > 0 && past <= SECOND_MS) return `just over ${durationText(ms - past)}`;
  return durationText(ms);
}
