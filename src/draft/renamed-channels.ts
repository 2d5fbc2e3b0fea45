import { DAY_MS } from "../ground/units.js";
import { isNumber } from "./layout.js";
import { tokensOf } from "./names.js";
import type { Answers, DraftQuestion } from "./questions.js";
import { shown } from "./shown.js";
import { pairOf, standing } from "./words.js";

/** A channel under a new name is heard again within this time (our own choice). */
const LONGEST_GAP_MS = 3 * DAY_MS;
/** Meters of one place read alike: their middle readings are at most this far apart (our own choice). */
const MOST_RATIO = 1.5;
/** Fewer readings show nothing (our own choice). */
const FEWEST = 10;

/** A channel with its readings in time order. */
export interface Channel {
  readonly name: string;
  readonly times: readonly number[];
  readonly texts: readonly string[];
}

/** A channel that goes on under another name. */
export interface Renamed {
  readonly from: string;
  readonly to: string;
  readonly question: DraftQuestion | null;
}

/**
 * Channels of one source of which one begins where the other ends, that say alike things and have a part of their names in common: one
 * sensor that was renamed. Only where no other is as likely. The person is asked; "other" keeps them apart.
 */
export function renamedChannels(channels: readonly Channel[], answers: Answers): Renamed[] {
  const pairs = channels.flatMap((earlier) =>
    channels
      .filter((later) => follows(earlier, later) && saysAlike(earlier, later))
      .map((later) => ({ earlier, later, common: commonTokens(earlier.name, later.name) })),
  );
  return pairs.flatMap(({ earlier, later, common }) => {
    const rivals = pairs.filter((other) => (other.earlier === earlier) !== (other.later === later));
    const id = `renamed:${earlier.name}:${later.name}`;
    if (common === 0 || rivals.some((other) => other.common >= common) || answers.get(id) === "other") return [];
    const since = new Date(later.times[0] ?? 0).toISOString().slice(0, 10);
    const text = `is ${shown(later.name)}, which begins on ${since}, the sensor that was called ${shown(earlier.name)} until then? It is taken for it`;
    const choices = [
      { answer: "same", says: "Yes, the same sensor under a new name" },
      { answer: "other", says: "No, another sensor" },
    ];
    const question: DraftQuestion | null = answers.has(id) ? null : { id, text, choices, typed: null, weight: "stands in" };
    return [{ from: earlier.name, to: later.name, question }];
  });
}

function follows(earlier: Channel, later: Channel): boolean {
  const [end, begin] = [earlier.times.at(-1), later.times[0]];
  if (end === undefined || begin === undefined || earlier.times.length < FEWEST || later.times.length < FEWEST) return false;
  return begin > end && begin - end <= LONGEST_GAP_MS;
}

function saysAlike(one: Channel, other: Channel): boolean {
  const [mine, theirs] = [middle(one.texts), middle(other.texts)];
  if (mine !== null && theirs !== null) return Math.max(mine, theirs) <= MOST_RATIO * Math.min(mine, theirs);
  if (mine !== null || theirs !== null) return false;
  const [words, others] = [pairOf([...new Set(one.texts)]), pairOf([...new Set(other.texts)])];
  return words !== null && others !== null && words.class === others.class;
}

/** The middle of readings that are numbers; null for words. */
function middle(texts: readonly string[]): number | null {
  const news = texts.filter((text) => standing(text) === "news");
  const numbers = news.filter(isNumber).map((text) => Number(text.replace(",", "."))).sort((a, b) => a - b);
  const isYesNo = new Set(numbers).size < 3;
  return isYesNo || numbers.length < 0.9 * news.length ? null : (numbers[Math.floor(numbers.length / 2)] ?? null);
}

function commonTokens(one: string, other: string): number {
  const theirs = tokensOf(other);
  return tokensOf(one).filter((token) => theirs.includes(token)).length;
}
