import { shareLowerBound, shareUpperBound } from "../../statistics/share.js";
import type { RuleFinding } from "../../result/rules.js";
import type { Moment } from "./moments.js";

/** A change of verdict that all open answers together bring about in less than this share of cases is not asked for. Our own choice. */
const TOO_SELDOM = 0.05;

/**
 * Whether answers may come out as a change of verdict needs: at least `needed` of the questions in the rule's favour (1) or
 * against it (-1). Of firings that look right, as many may be wrong as those confirmed allow, at the rule's confidence; what
 * looks otherwise may come out either way. Takes the questions to be independent of each other.
 */
export function isLikely(needed: number, questions: readonly { readonly moments: readonly Moment[] }[], direction: 1 | -1, { firings: { right, wrong } }: Pick<RuleFinding, "firings">, confidence: number): boolean {
  const [fewest, most] = [shareLowerBound(wrong, right + wrong, confidence), shareUpperBound(wrong, right + wrong, confidence)];
  const chanceOf = ({ sort, looks }: Moment): number => {
    if (looks !== "right") return 1;
    // Memory does not make an act late that was in time.
    if (sort === "wanted") return direction === 1 ? 1 : 0;
    return direction === 1 ? 1 - fewest : most;
  };
  const chances = questions.map(({ moments }) => (direction === 1 ? Math.min : Math.max)(...moments.map(chanceOf)));
  return atLeastChance(needed, chances) >= TOO_SELDOM;
}

/** The chance that at least `count` of several independent things happen, each with a chance of its own. */
export function atLeastChance(count: number, chances: readonly number[]): number {
  // By how many happened so far; the last place holds "as many or more".
  const none = [1, ...new Array<number>(count).fill(0)];
  const after = chances.reduce((by, chance) => by.map((stays, n) => stays * (n === count ? 1 : 1 - chance) + (by[n - 1] ?? 0) * chance), none);
  return after[count] ?? 0;
}
