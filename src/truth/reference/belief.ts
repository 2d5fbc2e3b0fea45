import type { Voice } from "./basis.js";
import type { Rates } from "./learn.js";
import { MOST_BY_ONE_MORE, MOST_BY_TWO_MORE, MOST_PROBABILITY } from "./priors.js";

/** A voice with its place in the lists of rates. */
export type PlacedVoice = Pick<Voice, "group"> & { readonly place: number };

/**
 * The most that may be believed of a state, whatever the model makes of the votes: the model takes groups for independent, and no history shows
 * that they are. Where a single group says so, the best of its members taken alone, both states equally likely beforehand: movements nearby or a chain
 * of changes make no witness better than its error rates. Where several do, it depends on how many more they are than those who deny it:
 * one more, and a shared cause that nobody declared among two of them would look just the same; two more likewise, but then two must be wrong.
 */
export function mostBelievable(state: 0 | 1, winners: readonly PlacedVoice[], losers: readonly PlacedVoice[], rates: Pick<Rates, "saysOnGivenOff" | "saysOffGivenOn">): number {
  const groupsOf = (voices: readonly PlacedVoice[]): number => new Set(voices.map((one) => one.group)).size;
  const more = groupsOf(winners) - groupsOf(losers);
  const most = more >= 3 ? MOST_PROBABILITY : more === 2 ? MOST_BY_TWO_MORE : MOST_BY_ONE_MORE;
  if (groupsOf(winners) > 1) return most;
  const alone = winners.map(({ place }) => {
    const [falseOn, falseOff] = [rates.saysOnGivenOff[place]!, rates.saysOffGivenOn[place]!];
    const [right, wrong] = state === 1 ? [1 - falseOff, falseOn] : [1 - falseOn, falseOff];
    return right / (right + wrong);
  });
  return Math.max(...alone);
}
