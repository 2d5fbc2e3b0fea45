import { subjectClasses } from "../site/draft.js";
import type { SubjectClass } from "../site/site.js";
import { stateWords, stirWords } from "../site/state-words.js";
import { hasUnprintable } from "../site/yaml-text.js";
import { nearby, together, togetherWithinMs, type Changes, type Together } from "./changes.js";
import type { FoundSignal, FoundSource, LeftOut, Placing } from "./found.js";
import { classHint } from "./names.js";
import { namedMeter, namedOtherwise } from "./nothing-of-ours.js";
import { plainQuestion, type Answers, type DraftQuestion } from "./questions.js";
import { shown } from "./shown.js";
import { actsLikeMovement, noticesMovement } from "./stirs.js";

/** Two signals with more than this share of their changes in common watch one thing (our own choice). */
export const LEAST_TOGETHER = 0.5;

/** A sensor that is on for longer says more than movement, or its words mean the opposite (our own choice). */
const MOST_STIRRING = 0.5;
/** What says two words of its own and changes near bays and doors by this share beyond chance is most likely a person's (our own choice). */
const LEAST_NEARBY = 0.3;

/** A signal with its changes, found once for all comparisons. */
export interface Watched {
  readonly signal: FoundSignal;
  readonly changes: Changes;
}

/** A signal with the class of what it watches, and why. */
export interface Classed extends Watched {
  readonly class: SubjectClass;
  readonly why: string;
  readonly open: DraftQuestion | null;
  readonly direction: Placing["direction"];
  /** It notices only that somebody stirs. */
  readonly stirs?: true;
}

/**
 * The class of each signal: what the person said; else distances are of bays, words such as open and closed are of doors; plain words
 * take the class of the signal whose changes they share, or of their name. Where no person is found, what notices movement in the house tells
 * of the household. What neither readings nor names put down to a bay, a door or a person is left out, unless that would be all.
 */
export function classSignals(watched: readonly Watched[], answers: Answers): { readonly classed: readonly Classed[]; readonly leftOut: readonly LeftOut[] } {
  const byThemselves = watched.map((one) => classedByPerson(one, answers.get(`watches:${one.signal.id}`)) ?? classedByItself(one));
  const known = byThemselves.filter((one) => one !== null && "class" in one);
  const byOthers = watched.map((one, i) => byThemselves[i] ?? classedByOthers(one, known));
  const hasPeople = byOthers.some((one) => "class" in one && one.class === "person" && one.stirs !== true);
  const all = watched.map((one, i) => (hasPeople ? null : (ofHousehold(one, answers) ?? likeMovement(one, byOthers[i], answers))) ?? byOthers[i] ?? left(one, ""));
  const kept = all.filter((one) => "class" in one);
  const classed = (kept.length > 0 ? kept : watched.map((one) => asked(one))).map((one) => wordsSaid(one, answers));
  return { classed, leftOut: kept.length > 0 ? all.filter((one) => "leftOut" in one).map(({ leftOut }) => leftOut) : [] };
}

function classedByPerson(watched: Watched, said: string | undefined): Classed | Left | null {
  if (said === "nothing") return left(watched, "you said so");
  if (said === "stirs" && watched.signal.reading.form === "words") return stirring(watched, "you said so");
  const subjectClass = subjectClasses.find((one) => one === said);
  if (subjectClass === undefined) return null;
  const { reading } = watched.signal;
  const isKnown = reading.form !== "words" || reading.words.class === subjectClass;
  return {
    ...watched,
    class: subjectClass,
    why: "you said so",
    open: isKnown ? null : wordsQuestion(watched.signal, subjectClass),
    direction: isKnown ? "as seen" : null,
  };
}

/** A signal with the meaning of its words, where the person gave it. */
function wordsSaid(one: Classed, answers: Answers): Classed {
  const said = answers.get(`on:${one.signal.id}`);
  const { reading } = one.signal;
  if (one.direction !== null || said === undefined || reading.form !== "words") return one;
  const direction = reading.words.on[0] === said ? "as seen" : "reversed";
  return { ...one, why: `${one.why}; you said what its words mean`, open: null, direction };
}

interface Left {
  readonly leftOut: LeftOut;
}

function classedByItself(watched: Watched): Classed | Left | null {
  const { reading, called, source } = watched.signal;
  if (reading.form === "position") {
    return {
      ...watched,
      class: "person",
      why: "latitude and longitude: somebody's place",
      open: whoseTracks(watched.signal, source),
      direction: "as seen",
    };
  }
  const otherwise = namedOtherwise(watched.signal);
  if (reading.form === "distance") {
    if (otherwise !== null) return left(watched, otherwise);
    if (reading.band === null && !namedMeter(watched.signal)) return left(watched, "numbers without two states, and no name says that they are distances");
    return { ...watched, class: "bay", why: "numbers: a distance meter, which watches a bay", open: null, direction: "as seen" };
  }
  const { words } = reading;
  const [on, off] = [shown(words.on[0] ?? ""), shown(words.off[0] ?? "")];
  if (words.class === "person" || (words.class !== null && otherwise === null)) {
    return { ...watched, class: words.class, why: `${on} and ${off} are said of a ${words.class}`, open: null, direction: "as seen" };
  }
  if (otherwise !== null) return left(watched, otherwise);
  if (words.meaning !== "plain" || classHint(called) !== "bay") return null;
  return { ...watched, class: "bay", why: "by its name", open: wordsQuestion(watched.signal, "bay"), direction: null };
}

/** A sensor that notices movement in the house, of the person that stands for all who live there; null for other sensors. */
function ofHousehold(watched: Watched, answers: Answers): Classed | null {
  const { signal } = watched;
  if (answers.get(`watches:${signal.id}`) !== undefined || signal.reading.form !== "words" || noticesMovement(signal) !== "inside") return null;
  return stirring(watched, "it notices only that somebody stirs: a person that stands for the household, as it does not tell who");
}

/** A sensor that nothing names, and that goes on and off as movement does: so taken, and asked about. */
function likeMovement(watched: Watched, found: Classed | Left | undefined, answers: Answers): Classed | null {
  const { signal } = watched;
  if (found === undefined || "class" in found || answers.get(`watches:${signal.id}`) !== undefined) return null;
  if (signal.reading.form !== "words" || signal.reading.words.meaning !== "plain" || namedOtherwise(signal) !== null) return null;
  const how = actsLikeMovement(signal);
  return how === null ? null : { ...stirring(watched, how), open: watchesQuestion(signal, `does it notice only that somebody stirs in the house? ${how.charAt(0).toUpperCase()}${how.slice(1)}`, "stands in") };
}

/** A sensor is still most of the time: where it is not, or its words do not say which is which, the person is asked. */
function stirring(watched: Watched, why: string): Classed {
  const { signal } = watched;
  const { reading } = signal;
  const isTold = reading.form === "words" && (reading.words.off.length === 0 || (reading.words.meaning === "plain" && onShare(signal.readings.times, signal.states).share <= MOST_STIRRING));
  return { ...watched, class: "person", stirs: true, why, open: isTold ? null : wordsQuestion(signal, "person", stirWords.on), direction: isTold ? "as seen" : null };
}

function left({ signal }: Watched, why: string): Left {
  return { leftOut: { signal, why } };
}

/** Which of a signal's two words is which, with how much of the time each of them was so. */
function wordsQuestion({ id, reading, readings, states }: FoundSignal, subjectClass: SubjectClass, means = stateWords[subjectClass].on): DraftQuestion {
  if (reading.form !== "words") return plainQuestion(`signal ${id}: what of it means ${means}?`);
  const [on = "", off = ""] = [reading.words.on[0], reading.words.off[0]];
  const { turns, share } = onShare(readings.times, states);
  const seen = `It said ${shown(on)} ${turns === 1 ? "once" : `${turns} times`}, for ${share < 0.005 ? "less than 1" : Math.round(100 * share)} % of the time`;
  return {
    id: `on:${id}`,
    text: `signal ${id}: which of ${shown(on)} and ${shown(off)} means ${means}? ${seen}`,
    choices: [on, off].map((word) => ({ answer: word, says: `${shown(word)} means ${means}` })),
    typed: null,
    weight: "blocks",
  };
}

/** How often a signal turned on, and its share of the time that was on. */
function onShare(times: Float64Array, states: Float64Array): { readonly turns: number; readonly share: number } {
  let [turns, on, known] = [0, 0, 0];
  states.forEach((state, i) => {
    if (state === 1 && states[i - 1] !== 1) turns++;
    const lasts = (times[i + 1] ?? times[i] ?? 0) - (times[i] ?? 0);
    if (Number.isNaN(state)) return;
    known += lasts;
    on += state * lasts;
  });
  return { turns, share: known > 0 ? on / known : 0 };
}

/** Tracks rarely say who carried the device; a column or channel of places is named after somebody. */
function whoseTracks({ id }: FoundSignal, { tables: [first] }: FoundSource): DraftQuestion | null {
  if (!first.traits.hasTracks) return null;
  return {
    id: `whose:${id}`,
    text: `signal ${id}: whose place is it? If it is a vehicle's, name the person who drives it: the site file knows no places of vehicles`,
    choices: [],
    typed: { expected: "a person's name", fits: (text) => text.trim() !== "" && !hasUnprintable(text) },
    weight: "stands in",
  };
}

/** By the signal whose changes it shares most, else by its name. */
function classedByOthers(watched: Watched, known: readonly Classed[]): Classed | Left {
  const [best] = known
    .map((one) => ({ one, with: together(watched.changes, one.changes) }))
    .sort((a, b) => Math.max(b.with.same, b.with.reversed) - Math.max(a.with.same, a.with.reversed));
  if (best !== undefined && Math.max(best.with.same, best.with.reversed) >= LEAST_TOGETHER && best.one.direction !== null) {
    return classedByPartner(watched, best.one, best.with);
  }
  const { reading, called, source } = watched.signal;
  const hint = classHint(source.layout.form === "long" ? called : `${called} ${source.id}`);
  if (hint === null && reading.form === "words" && reading.words.meaning === "unknown") {
    const near = nearby(watched.changes, known.filter((one) => one.class !== "person").map(({ changes }) => changes));
    if (near.share >= LEAST_NEARBY) {
      return { ...watched, class: "person", why: `${near.near} of its ${near.of} changes lie within 10 min of one of a bay or a door`, open: wordsQuestion(watched.signal, "person"), direction: null };
    }
  }
  if (hint === null || reading.form !== "words") return left(watched, "nothing in its readings or its name says what it watches");
  return { ...watched, class: hint, why: "by its name", open: wordsQuestion(watched.signal, hint), direction: null };
}

/** What a signal watches, to choose among. */
export function watchesQuestion({ id }: FoundSignal, text: string, weight: DraftQuestion["weight"]): DraftQuestion {
  return {
    id: `watches:${id}`,
    text: `signal ${id}: ${text}`,
    choices: [
      { answer: "bay", says: "A bay: whether a vehicle stands there" },
      { answer: "door", says: "A door: whether it is open" },
      { answer: "person", says: "A person: whether they are here" },
      { answer: "stirs", says: "Only that somebody stirs in the house: movement, a tap" },
      { answer: "nothing", says: "None of these: leave it out" },
    ],
    typed: null,
    weight,
  };
}

/** Where nothing else is left to draft from, the person is asked rather than sent away. */
function asked(watched: Watched): Classed {
  const { reading } = watched.signal;
  const words = reading.form === "words" ? [...reading.words.on, ...reading.words.off] : [];
  return {
    ...watched,
    class: reading.form === "distance" ? "bay" : "door",
    why: "not known what it watches",
    open:
      reading.form === "distance"
        ? null
        : watchesQuestion(watched.signal, `which of ${words.map(shown).join(" and ")} is on, and what does it watch? Nothing in the readings tells`, "blocks"),
    direction: reading.form === "distance" ? "as seen" : null,
  };
}

function classedByPartner(watched: Watched, partner: Classed, common: Together): Classed {
  const named = classHint(watched.signal.called);
  const clash =
    named === null || named === partner.class
      ? null
      : watchesQuestion(watched.signal, `does it watch a ${partner.class}, as its changes say, or a ${named}, as its name says?`, "stands in");
  return {
    ...watched,
    class: partner.class,
    why: `it changes with ${partner.signal.id}: ${2 * common.matched} of ${common.changes} changes of both come in pairs within ${withinText(watched.changes, partner.changes)}`,
    open: clash,
    direction: common.same >= common.reversed ? "as seen" : "reversed",
  };
}

function withinText(a: Changes, b: Changes): string {
  const ms = togetherWithinMs(a, b);
  return ms < 120_000 ? `${ms / 1000} s` : `${Math.round(ms / 60_000)} min`;
}

