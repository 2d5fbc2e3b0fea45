import type { Timeline } from "../../src/timeline/timeline.js";
import { canonicalTimeline } from "../../src/timeline/make.js";
import { stateAt } from "../../src/timeline/state-at.js";

/** What the study compares with: at each instant what most of the signals say, boards or no boards; unknown on a tie. */
export function majorityVote(accounts: readonly Timeline[]): Timeline {
  const [first] = accounts;
  if (first === undefined) throw new RangeError("A vote needs a voter.");
  const instants = [...new Set(accounts.flatMap((one) => [...one.times]))].sort((a, b) => a - b);
  const states = instants.map((instant) => {
    const said = accounts.map((one) => stateAt(one, instant));
    const [on, off] = [said.filter((one) => one === 1).length, said.filter((one) => one === 0).length];
    return on > off ? 1 : off > on ? 0 : 2;
  });
  return canonicalTimeline(first.start, first.end, instants, states);
}
