import { durationText } from "../ground/duration.js";
import type { Expression, IsAtom, TurnedAtom } from "./expression.js";
import type { Site } from "./site.js";
import { plainWords, stateWords, stirWords, type StateWords } from "./state-words.js";

/** The part of a site that gives a condition its words. */
export type WordedSite = Pick<Site, "signals" | "subjects">;

/**
 * A condition in plain words: `bay-1-overhead turned occupied within 2 min and bay-1-wall is occupied`.
 * The state words are those of the subject that a ref is, or is a signal of. Names are given as they are:
 * the code that prints the text makes it inert.
 */
export function expressionText(expression: Expression, site: WordedSite): string {
  return text(expression, wordsByRef(site));
}

/** The words by site: a rule with thousands of firings has its atoms put into words for each. */
const known = new WeakMap<WordedSite, ReadonlyMap<string, StateWords>>();

/** For each signal and subject, how its two states are called. */
function wordsByRef(site: WordedSite): ReadonlyMap<string, StateWords> {
  const found = known.get(site) ?? wordsIn(site);
  known.set(site, found);
  return found;
}

function wordsIn(site: WordedSite): ReadonlyMap<string, StateWords> {
  const words = new Map<string, StateWords>();
  for (const subject of site.subjects) words.set(subject.id, stateWords[subject.class]);
  for (const { id, subject, kind } of site.signals) words.set(id, kind === "stir" ? stirWords : (words.get(subject) ?? plainWords));
  return words;
}

function text(expression: Expression, words: ReadonlyMap<string, StateWords>): string {
  switch (expression.op) {
    case "all":
      return joined(expression.of, "and", words);
    case "any":
      return joined(expression.of, "or", words);
    case "atLeast":
      return `at least ${expression.count} of (${expression.of.map((part) => text(part, words)).join("; ")})`;
    case "not":
      return `not (${text(expression.of, words)})`;
    case "is":
      return isText(expression, words);
    case "turned":
      return turnedText(expression, words);
  }
}

/** Brackets stand only where "and" and "or" would otherwise meet. */
function joined(parts: readonly Expression[], link: "and" | "or", words: ReadonlyMap<string, StateWords>): string {
  const mixed = link === "and" ? "any" : "all";
  return parts
    .map((part) => (part.op === mixed && part.of.length > 1 && parts.length > 1 ? `(${text(part, words)})` : text(part, words)))
    .join(` ${link} `);
}

function isText(atom: IsAtom, words: ReadonlyMap<string, StateWords>): string {
  const word = wordOf(atom.ref, atom.state, words);
  if (atom.since !== undefined) {
    const { ref, to, graceMs } = atom.since;
    const grace = graceMs === 0 ? "" : ` (not counting the first ${durationText(graceMs)})`;
    return `${atom.ref} has been ${word} since ${ref} turned ${wordOf(ref, to, words)}${grace}`;
  }
  if (atom.heldMs !== null) return `${atom.ref} has been ${word} for ${durationText(atom.heldMs)}`;
  if (atom.recentlyMs !== null) return `${atom.ref} was ${word} within the last ${durationText(atom.recentlyMs)}`;
  return `${atom.ref} is ${word}`;
}

function turnedText(atom: TurnedAtom, words: ReadonlyMap<string, StateWords>): string {
  return `${atom.ref} turned ${wordOf(atom.ref, atom.to, words)} within ${durationText(atom.withinMs)}`;
}

function wordOf(ref: string, state: 0 | 1, words: ReadonlyMap<string, StateWords>): string {
  const pair = words.get(ref) ?? plainWords;
  return state === 1 ? pair.on : pair.off;
}
