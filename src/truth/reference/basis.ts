import type { Witness } from "./witness.js";

/** As much of a witness as counting independent ones takes. */
export type Voice = Pick<Witness, "id" | "shares" | "group" | "twins">;

/**
 * Who stands behind a state: "several" when witnesses of at least two groups say so (what fools the one need not fool the
 * other) and in each of these more voices agree than contradict: a board whose signals contradict each other stands behind
 * nothing. However well two contacts on one board agree, or two connected by a longer chain, they are one witness.
 */
export function basisOf(winners: readonly Pick<Voice, "group">[], losers: readonly Pick<Voice, "group">[]): "several" | "one" | "none" {
  if (winners.length === 0) return "none";
  const votesOf = (voices: readonly Pick<Voice, "group">[], group: string): number => voices.filter((one) => one.group === group).length;
  const groups = [...new Set(winners.map((one) => one.group))];
  return groups.filter((group) => votesOf(winners, group) > votesOf(losers, group)).length >= 2 ? "several" : "one";
}
