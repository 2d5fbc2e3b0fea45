import type { Rates } from "./learn.js";
import { MOST_BY_ONE_MORE, MOST_BY_TWO_MORE, MOST_PROBABILITY } from "./priors.js";
import type { Witness } from "./witness.js";

/** What must be known of a witness to count independent ones. */
export type Voice = Pick<Witness, "id" | "shares" | "group" | "twins">;

/**
 * Who vouches for a state: "several" when witnesses of at least two groups say so (what fools one need not fool the
 * other) and in each of these more voices agree than contradict: a board whose signals contradict each other vouches
 * for nothing. Two contacts on one board, or connected through a longer chain, are one witness however well they agree.
 */
export function basisOf(winners: readonly Pick<Voice, "group">[], losers: readonly Pick<Voice, "group">[]): "several" | "one" | "none" {
  if (winners.length === 0) return "none";
  const votesOf = (voices: readonly Pick<Voice, "group">[], group: string): number => voices.filter((one) => one.group === group).length;
  const groups = [...new Set(winners.map((one) => one.group))];
  return groups.filter((group) => votesOf(winners, group) > votesOf(losers, group)).length >= 2 ? "several" : "one";
}

/** A voice with its place in the lists of rates; null for a stir signal, which has none there. */
export type PlacedVoice = Pick<Voice, "group"> & { readonly place: number | null };

/**
 * The highest probability that a state may get, whatever the model makes of the votes: the model takes groups for
 * independent, and no history proves that. If a single group says so, it is that of its best member alone, both states
 * equally likely beforehand: movements nearby or a chain of changes make no witness better than its error rates. If
 * several do, it depends on how many more they are than the groups that deny it: with one more, an undeclared shared
 * cause of two of them would look the same; the same holds with two more, but then two must be wrong.
 */
export function mostBelievable(
  state: 0 | 1,
  winners: readonly PlacedVoice[],
  losers: readonly PlacedVoice[],
  rates: Pick<Rates, "saysOnGivenOff" | "saysOffGivenOn">,
): number {
  const groupsOf = (voices: readonly PlacedVoice[]): number => new Set(voices.map((one) => one.group)).size;
  const more = groupsOf(winners) - groupsOf(losers);
  const most = more >= 3 ? MOST_PROBABILITY : more === 2 ? MOST_BY_TWO_MORE : MOST_BY_ONE_MORE;
  if (groupsOf(winners) > 1) return most;
  const alone = winners.map(({ place }) => {
    if (place === null) return MOST_BY_ONE_MORE;
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- a place is that of a witness in these lists
    const [falseOn, falseOff] = [rates.saysOnGivenOff[place]!, rates.saysOffGivenOn[place]!];
    const [right, wrong] = state === 1 ? [1 - falseOff, falseOn] : [1 - falseOn, falseOff];
    return right / (right + wrong);
  });
  return Math.max(...alone);
}
