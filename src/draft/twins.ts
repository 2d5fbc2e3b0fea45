import { byState, keepsToGrid, readTogether, steadyChance, steadyLag, steadyText, type TurnList } from "../statistics/steady-lag.js";
import { changesOf } from "./changes.js";
import type { FoundSignal, Placing } from "./found.js";
import type { CauseFound } from "./shared-causes.js";

/** Turns further apart than this are not of one event (our own choice: as for telling what signals watch). */
const TOGETHER_MS = 90_000;
/** Over all pairs, chance brings a wrong proposal in at most this share of drafts (our own choice, as in an audit). */
const FALSE_ALARMS = 0.01;

/**
 * Pairs of signals on one subject that change in the same second, or with one and the same delay, at nearly every turn: two independent
 * sensors never do. Pairs that a `known` cause already connects are left out.
 */
export function twinCauses(placings: readonly Placing[], known: readonly CauseFound[]): Omit<CauseFound, "name">[] {
  const pairs = placings.flatMap((one, i) =>
    placings.slice(i + 1).flatMap((other) => (one.subject === other.subject ? [[one.signal, other.signal] as const] : [])),
  );
  return pairs.flatMap(([one, other]) => {
    if (known.some(({ signals }) => signals.includes(one) && signals.includes(other))) return [];
    const [mine, theirs] = [turnsOf(one), turnsOf(other)];
    if (keepsToGrid(mine.at) || keepsToGrid(theirs.at)) return [];
    const lag = steadyLag(byState(mine), byState(theirs), TOGETHER_MS);
    const chance = steadyChance(lag);
    if (chance === null || chance * pairs.length > FALSE_ALARMS) return [];
    if (readTogether({ readAt: one.readings.times, turns: mine.at.length }, { readAt: other.readings.times, turns: theirs.at.length })) {
      return [];
    }
    return [{ signals: [one, other], instants: [], text: steadyText(lag) }];
  });
}

function turnsOf(signal: FoundSignal): TurnList {
  const { on, off } = changesOf(signal);
  const all = [...on.map((at) => ({ at, to: 1 })), ...off.map((at) => ({ at, to: 0 }))].sort((a, b) => a.at - b.at);
  return { at: all.map(({ at }) => at), to: all.map(({ to }) => to) };
}
