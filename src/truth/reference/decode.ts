/* eslint-disable @typescript-eslint/no-non-null-assertion --
   one walk over parallel lists: cuts, segments and the steps of every witness, each index below the length of its list
   */
import { stirVoices } from "../stirs/stir-voices.js";
import { stateAt } from "../../timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "../../timeline/timeline.js";
import { basisOf, mostBelievable, type PlacedVoice } from "./vouching.js";
import type { Model, ModelInput } from "./fit-model.js";
import { turnInstant } from "./layout.js";
import { LEAST_PROBABILITY, MOST_BY_ONE_MORE } from "./priors.js";
import type { ReferenceSegment } from "./reference.js";
import type { Witness } from "./witness.js";
import type { Interval } from "../../ground/intervals.js";

/** What is known over a stretch, and from whom. */
type Finding = Pick<ReferenceSegment, "state" | "probability" | "basis" | "vouchers">;

/** Nobody can tell. */
const NO_FINDING: Finding = { state: UNKNOWN, probability: 0.5, basis: "none", vouchers: [] };

/**
 * The segments of the reference, from a fitted model. What the diary says holds, with probability 1. Elsewhere a
 * segment has the state of the best path if its own probability is at least {@link LEAST_PROBABILITY}; its vouchers are
 * the witnesses that vote so and are not dark at the time, believed as far as {@link mostBelievable} allows. If the
 * model is not sure, or no witness is there to vouch (movements nearby alone never do), the state is unknown. Stirs vouch
 * for "here" as one group; that they are silent supports "away" where nobody else speaks. A turn at a door stands where it
 * opened or shut ({@link turnInstant}).
 */
export function decode(model: Model, { witnesses, written }: Pick<ModelInput, "witnesses" | "written">, period: Interval): ReferenceSegment[] {
  const { layout, path, learnt } = model;
  const starts = layout.boundaries.map((one, b) => (path[b + 1] === path[b] ? one.instant : turnInstant(one, path[b + 1] === ON ? ON : OFF)));
  const stirs = model.stirring === null ? null : stirVoices(model.stirring, path, starts, period);
  const cuts = sortedCuts([starts, written.times, stirs?.edges ?? [], ...witnesses.map((one) => one.edges)], period);
  const steps = { segment: 0, written: 0, accounts: new Int32Array(witnesses.length) };
  const known = new Array<boolean>(witnesses.length).fill(false);
  const segments: ReferenceSegment[] = [];
  for (let i = 0; i < cuts.length; i += 1) {
    const from = cuts[i]!;
    const to = cuts[i + 1] ?? period.to;
    while (steps.segment < starts.length && starts[steps.segment]! <= from) steps.segment += 1;
    steps.written = stepFrom(written, steps.written, from);
    for (let w = 0; w < witnesses.length; w += 1) {
      const { account } = witnesses[w]!;
      steps.accounts[w] = stepFrom(account, steps.accounts[w]!, from);
      known[w] = account.states[steps.accounts[w]!] !== UNKNOWN;
    }
    const said = written.states[steps.written] as TruthState;
    const finding: Finding = said === UNKNOWN ? findingOf(steps.segment, from) : { state: said, probability: 1, basis: "diary", vouchers: [] };
    const last = segments.at(-1);
    if (last !== undefined && sameFinding(last, finding)) segments[segments.length - 1] = { ...last, to };
    else segments.push({ from, to, ...finding });
  }
  return segments;

  function findingOf(k: number, from: number): Finding {
    const state = path[k] === ON ? ON : OFF;
    const on = learnt.smoothed.on[k]!;
    const probability = state === ON ? on : 1 - on;
    if (probability < LEAST_PROBABILITY) return NO_FINDING;
    const saying = (vote: 0 | 1): (PlacedVoice & { id: string })[] =>
      witnesses.flatMap(({ id, group }, place) => (known[place] && layout.votes[place]![k] === vote ? [{ id, group, place }] : []));
    const heard = stirs === null || stirs.isDark(from) ? null : stirs;
    const here = (heard?.here(k) ?? []).map(({ id, group }) => ({ id, group, place: null }));
    const [winners, losers] = [
      [...saying(state), ...(state === ON ? here : [])],
      [...saying(state === ON ? OFF : ON), ...(state === ON ? [] : here)],
    ];
    // Silence with nobody who could say that the person is away: it supports, and is no witness.
    if (winners.length === 0 && heard !== null && state === OFF) {
      return { state, probability: Math.min(probability, MOST_BY_ONE_MORE), basis: "one", vouchers: heard.silent.map((one) => one.id) };
    }
    if (winners.length === 0) return NO_FINDING;
    const believed = Math.min(probability, mostBelievable(state, winners, losers, learnt.rates));
    if (believed < LEAST_PROBABILITY) return NO_FINDING;
    return {
      state,
      probability: believed,
      basis: basisOf(winners, losers),
      vouchers: winners.map((one) => one.id),
    };
  }
}

/** Outages in which no witness was left: what they say on return, however much at once, is no arrival. */
export function blindRestarts(witnesses: readonly Witness[], period: Interval): Interval[] {
  const restarts = witnesses.flatMap((one) => one.restarts);
  const distinct = [...new Map(restarts.map((one) => [`${one.from} ${one.to}`, { from: one.from, to: one.to }])).values()];
  return distinct
    .filter((restart) => {
      const cuts = sortedCuts(
        witnesses.map((one) => one.edges),
        period,
      ).filter((cut) => cut > restart.from && cut < restart.to);
      return [restart.from, ...cuts].some((instant) => witnesses.every(({ account }) => stateAt(account, instant) === UNKNOWN));
    })
    .sort((a, b) => a.from - b.from);
}

function stepFrom(timeline: Timeline, step: number, instant: number): number {
  let at = step;
  while (at + 1 < timeline.times.length && timeline.times[at + 1]! <= instant) at += 1;
  return at;
}

function sortedCuts(lists: readonly ArrayLike<number>[], period: Interval): Float64Array {
  const all = new Float64Array(lists.reduce((sum, list) => sum + list.length, 1));
  all[0] = period.from;
  let filled = 1;
  for (const list of lists) {
    all.set(list, filled);
    filled += list.length;
  }
  all.sort();
  return all.filter((cut, i) => cut < period.to && (i === 0 || cut !== all[i - 1]));
}

function sameFinding(a: Finding, b: Finding): boolean {
  return (
    a.state === b.state &&
    a.probability === b.probability &&
    a.basis === b.basis &&
    a.vouchers.length === b.vouchers.length &&
    a.vouchers.every((one, i) => one === b.vouchers[i])
  );
}
