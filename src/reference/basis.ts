import { haveCommonCause, type Witness } from "./witness.js";

/** As much of a witness as counting independent ones takes. */
export type Voice = Pick<Witness, "id" | "shares">;

/**
 * Who stands behind a state: "several" when two of those who say so share no cause (what fools the one need not fool the
 * other) and each has more agreeing than contradicting voices among those that share a cause with it: a board whose
 * signals contradict each other stands behind nothing. However well two contacts on one board agree, they are one witness.
 */
export function basisOf(winners: readonly Voice[], losers: readonly Voice[]): "several" | "one" | "none" {
  if (winners.length === 0) return "none";
  const carriers = winners.filter((one) => {
    const agreeing = winners.filter((other) => other === one || haveCommonCause(one, other)).length;
    return agreeing > losers.filter((other) => haveCommonCause(one, other)).length;
  });
  return carriers.some((one, i) => carriers.slice(i + 1).some((other) => !haveCommonCause(one, other))) ? "several" : "one";
}
