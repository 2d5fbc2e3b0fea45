import type { Readings } from "../../intake/readings.js";
import { unpackedReadings } from "../../intake/unpack.js";
import { binomialTail } from "../../statistics/tails.js";
import { keepsToGrid, readTogether, steadyChance, steadyLag, steadyText, type ReadAt, type SteadyLag, type TurnList } from "../../statistics/steady-lag.js";
import { stateAt } from "../../timeline/state-at.js";
import { LEAST_TOGETHER, type PairFound } from "./pair-found.js";
import { CLUSTER_MS } from "./priors.js";
import type { Witness } from "./witness.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** Signs in the instants of turns: a lag that never varies; or one that varies at true turns only. */
export function turnTogether(one: Witness, other: Witness, thirds: readonly Witness[], readings?: ReadonlyMap<string, Readings>): PairFound[] {
  const windowMs = Math.min(CLUSTER_MS[one.class], CLUSTER_MS[other.class]);
  const [mine, theirs] = [seenTurns(one), seenTurns(other)];
  if (mine.at.length < LEAST_TOGETHER || theirs.at.length < LEAST_TOGETHER || keepsToGrid(mine.at) || keepsToGrid(theirs.at)) return [];
  const lag = steadyLag(mine, theirs, windowMs);
  const found = [...steadyThroughout(lag), ...(one.subject === other.subject ? steadyWhenDenied(lag, thirds, windowMs) : [])];
  return found.length > 0 && readings !== undefined && askedTogether(one, other, readings) ? [] : found;
}

function steadyThroughout(lag: SteadyLag): PairFound[] {
  const chance = steadyChance(lag);
  return chance === null ? [] : [{ how: "turns", chance, text: steadyText(lag) }];
}

/**
 * Where a third witness turns as well, something truly happened, and each sensor sees it in its own time. Where every third stays
 * as it is, either it missed the event (then the lag varies as ever) or both were fooled by one thing, which does not.
 */
function steadyWhenDenied({ pairs }: SteadyLag, thirds: readonly Witness[], windowMs: number): PairFound[] {
  if (thirds.length === 0) return [];
  const judged = pairs.flatMap(({ one, other, to, steady }) => {
    const answers = thirds.map((third) => answerOf(third, Math.min(one, other), Math.max(one, other), to, windowMs));
    return answers.includes("confirms") ? [{ denied: false, steady }] : answers.includes("denies") ? [{ denied: true, steady }] : [];
  });
  const count = (denied: boolean, steady: boolean): number => judged.filter((one) => one.denied === denied && one.steady === steady).length;
  const [together, apart] = [count(true, true), count(true, false)];
  if (together < LEAST_TOGETHER) return [];
  // As often as at true turns, with one more hit thrown in.
  const usual = (count(false, true) + 1) / (count(false, true) + count(false, false) + 1);
  return [{ how: "turns", chance: binomialTail(together, together + apart, usual), text: `changed at their usual lag to the second at ${together} of ${together + apart} turns that no other witness saw, and at ${count(false, true)} of ${count(false, true) + count(false, false)} that one did` }];
}

function answerOf({ account, changes }: Witness, from: number, to: number, state: number, windowMs: number): "confirms" | "denies" | "silent" {
  for (let i = firstAtOrAfter(changes.at, from - windowMs); i < changes.at.length && changes.at[i]! <= to + windowMs; i += 1) {
    if (changes.to[i] === state) return "confirms";
  }
  return stateAt(account, to) === 1 - state ? "denies" : "silent";
}

function seenTurns({ changes }: Witness): TurnList {
  const seen = (_: number, i: number): boolean => changes.seen[i] === 1;
  return { at: changes.at.filter(seen), to: changes.to.filter(seen) };
}

/** Whether one recorder reads both at the same instants, turn or no turn. */
function askedTogether(one: Witness, other: Witness, readings: ReadonlyMap<string, Readings>): boolean {
  const of = ({ id, changes }: Witness): ReadAt => ({ readAt: unpackedReadings(readings.get(id) ?? { parts: [] }).times, turns: changes.at.length });
  return readTogether(of(one), of(other));
}
