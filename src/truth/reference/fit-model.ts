/* eslint-disable @typescript-eslint/no-non-null-assertion --
   weights are lists by kind of segment and by witness, and there are two classes: off and on */
import { fitLatentClasses } from "../../statistics/latent-class.js";
import type { SubjectClass } from "../../site/site.js";
import type { Timeline } from "../../timeline/timeline.js";
import { bestPath } from "./chain.js";
import { errorCorrelations, groupsOf, voteWeights, type CauseGroup, type GroupCorrelation } from "./causes.js";
import { diaryCounts, type DiaryCounts, ratesFromDiary, withoutEdges } from "./diary.js";
import { identify, type Identification } from "./identify.js";
import { isDiaryEdge, layOut, type Layout, type Ways } from "./layout.js";
import { chainLogs, learn, type LearningSetup, type Learnt, type Rates } from "./learn.js";
import { movementsNearby, type Nearby } from "./nearby.js";
import { observe, type Observations } from "./observations.js";
import { doorUses } from "../stirs/door-uses.js";
import { darkEdges, lullEdges, segmentStirs, type EdgeOfSegment } from "../stirs/stir-evidence.js";
import { homeSilences, lullsOf, stirHistory, type StirHistory } from "../stirs/stir-history.js";
import { startingStirRates } from "../stirs/stir-rates.js";
import { usualSilence, type UsualSilence } from "../stirs/usual-silence.js";
import {
  CLUSTER_MS,
  ERROR_PRIOR,
  FULL_LOOK_CLUSTERS,
  MOST_ERROR_SHARE,
  PRIOR_CORRELATION,
  PRIOR_ERROR_SHARE,
  STAY_PRIOR_STRENGTH,
  type BetaPrior,
} from "./priors.js";
import type { Stir, Witness } from "./witness.js";
import type { Interval } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** What a subject's model is fitted to. Signals left out of a reference are in neither list. */
export interface ModelInput {
  readonly class: SubjectClass;
  /** Witnesses of the subject. */
  readonly witnesses: readonly Witness[];
  /** Witnesses of all other subjects. */
  readonly others: readonly Witness[];
  /** The person's stir signals; none on a bay or a door. */
  readonly stirs: readonly Stir[];
  readonly timeZone: string;
  readonly written: Timeline;
  readonly period: Interval;
  /** The share of the period near a movement of any of these (`shareNearMovements`). */
  readonly shareNearby: (speakers: readonly Witness[]) => number;
}

/** One subject's fitted model. */
export interface Model {
  readonly layout: Layout;
  readonly nearby: readonly Nearby[];
  readonly groups: readonly CauseGroup[];
  readonly correlations: readonly GroupCorrelation[];
  readonly identification: Identification;
  /** Error counts in the diary, if nothing else may teach error rates; else null. */
  readonly fromDiary: DiaryCounts | null;
  readonly setup: LearningSetup;
  readonly learnt: Learnt;
  /** The likeliest states of all segments taken together. */
  readonly path: Uint8Array;
  /** Null where the subject has no stir signal that was heard. */
  readonly stirring: StirHistory | null;
}

const FIRST_LOOK_ITERATIONS = 50;

/**
 * Fits the segment model: 1. cut into segments; 2. learn with error rates held at the prior, and see whether they can
 * be learnt at all; 3. if so, learn them with correlations at their prior; 4. estimate the correlations of errors
 * within groups from that, and learn once more. If only the diary shows error rates, they are counted there
 * ({@link ratesFromDiary}), and segments outside it do not move them. If nothing shows error rates, they stay at the
 * prior, and correlations with them.
 */
export function fitModel(input: ModelInput): Model {
  const stirring = stirHistory(input.stirs);
  if (stirring === null) return fit(input, null, null);
  // How long it is usual to be silent is learnt from silences at home, and which those are is known better after a first look.
  const first = fit(input, stirring, learnSilence(stirring, input, () => 1));
  const starts = Float64Array.from(first.layout.boundaries, ({ instant }) => instant);
  return fit(input, stirring, learnSilence(stirring, input, (instant) => first.learnt.smoothed.on[firstAtOrAfter(starts, instant)] ?? 1));
}

function fit(input: ModelInput, stirring: StirHistory | null, usual: Usual | null): Model {
  const { witnesses, period } = input;
  const layout = layOut(witnesses, input.written, period, CLUSTER_MS[input.class], usual?.ways);
  // With one group of witnesses only, changes without a movement nearby may be its flaps or the subject's habit: ignore
  // movements.
  const groups = groupsOf(witnesses);
  const alone = groups.filter(({ members }) => members.some((w) => layout.votes[w]!.some((vote) => vote !== 2))).length < 2;
  // Where stirs are there, movements of doors are the boundaries themselves.
  const nearby = alone || usual !== null ? [] : movementsNearby(layout.boundaries, witnesses, input.others, input.class, input.shareNearby);
  // Learning leaves out the edges of the diary; who vouches is read off the whole layout.
  const taught = withoutEdges(layout, period);
  const observations = observe(taught, nearby);
  const setupWith = (correlations: readonly number[], learnErrors: boolean): LearningSetup => ({
    observations,
    weights: voteWeights(observations, groups, correlations),
    stayPriors: nearby.map(stayPrior),
    learnErrors,
    ...(stirring === null || usual === null ? {} : { stirs: segmentStirs(stirring, edgesOf(layout), usual.silence, period) }),
  });

  let correlations: readonly GroupCorrelation[] = groups.map(({ asOne }) => ({
    correlation: asOne ? 1 : PRIOR_CORRELATION,
    errorSegments: 0,
  }));
  let setup = setupWith(
    correlations.map((one) => one.correlation),
    false,
  );
  let learnt = firstLearnt(setup, startingRates(witnesses.length, nearby));
  const identification = identify(observations, groups, nearby, learnt.rates);
  const fromDiary =
    identification.identified && !identification.beyondDiary
      ? diaryCounts(taught, period, FULL_LOOK_CLUSTERS * CLUSTER_MS[input.class])
      : null;
  if (identification.identified) {
    setup = { ...setup, learnErrors: fromDiary === null };
    // Among three groups the votes themselves say more than a prior; among two only the movements do.
    const start =
      identification.by === "witnesses"
        ? { ...learnt.rates, ...votedRates(observations, setup.weights) }
        : fromDiary === null
          ? learnt.rates
          : { ...learnt.rates, ...ratesFromDiary(fromDiary) };
    learnt = learn(setup, start);
    correlations = errorCorrelations(observations, groups, learnt.smoothed.on);
    if (groups.some(({ members }) => members.length > 1)) {
      setup = setupWith(
        correlations.map((one) => one.correlation),
        fromDiary === null,
      );
      learnt = learn(setup, learnt.rates);
    }
  }
  const { path } = bestPath(observations.chain, chainLogs(setup, learnt.rates));
  return { layout, nearby, groups, correlations, identification, fromDiary, setup, learnt, path, stirring };
}

/** How long it is usual to be silent at home, and where the person may come or go. */
interface Usual {
  readonly silence: UsualSilence;
  readonly ways: Ways;
}

function learnSilence(stirring: StirHistory, { others, period, timeZone }: ModelInput, atHome: (instant: number) => number): Usual {
  const uses = doorUses(others.filter((one) => one.class === "door"));
  const lulls = lullsOf(stirring, uses, period);
  const silence = usualSilence(homeSilences(lulls, atHome), timeZone);
  const edges = [
    ...lullEdges(lulls, silence).map((instant) => ({ instant, sort: "lull" as const })),
    ...darkEdges(stirring, period).map((instant) => ({ instant, sort: "dark" as const })),
  ];
  return { silence, ways: { uses, others: edges } };
}

function edgesOf({ boundaries }: Layout): EdgeOfSegment[] {
  return boundaries.map((one) => ({ instant: one.instant, use: one.use ?? null, isDiaryEdge: isDiaryEdge(one) }));
}

/** A house with a pet looks like one where nobody ever leaves, until both are tried: the likelier is kept. */
function firstLearnt(setup: LearningSetup, start: Rates): Learnt {
  if (setup.stirs === undefined) return learn(setup, start);
  const [plain, petted] = [false, true].map((one) => learn(setup, { ...start, stirs: startingStirRates(one) })) as [Learnt, Learnt];
  return (petted.objectives.at(-1) ?? 0) > (plain.objectives.at(-1) ?? 0) ? petted : plain;
}

function startingRates(witnesses: number, nearby: readonly Nearby[]): Rates {
  return {
    saysOnGivenOff: new Array<number>(witnesses).fill(PRIOR_ERROR_SHARE),
    saysOffGivenOn: new Array<number>(witnesses).fill(PRIOR_ERROR_SHARE),
    changes: 0.5,
    movedGivenChange: nearby.map((one) => Math.max(0.5, one.baseShare)),
    movedGivenStay: nearby.map(({ baseShare }) => Math.min(Math.max(baseShare, 0.02), 0.98)),
  };
}

function stayPrior({ baseShare }: Nearby): BetaPrior {
  return { alpha: 1 + STAY_PRIOR_STRENGTH * baseShare, beta: 1 + STAY_PRIOR_STRENGTH * (1 - baseShare) };
}

/** A first look without the chain: latent classes over the kinds of votes, from the weighted vote. */
function votedRates(observations: Observations, weights: readonly (readonly number[])[]): Pick<Rates, "saysOnGivenOff" | "saysOffGivenOn"> {
  const items = observations.kinds.map(({ votes }, kind) => ({
    counts: votes.map((vote, w) => [0, 1].map((state) => (vote === state ? weights[kind]![w]! : 0))),
    multiplicity: observations.kindCounts[kind]!,
  }));
  const fit = fitLatentClasses(items, {
    classes: 2,
    maximumIterations: FIRST_LOOK_ITERATIONS,
    tolerance: 1e-6,
    pseudoCounts: (_, truth, said) => (truth === said ? ERROR_PRIOR.beta - 1 : ERROR_PRIOR.alpha - 1),
  });
  return {
    saysOnGivenOff: fit.said.map((rows) => Math.min(rows[0]![1]!, MOST_ERROR_SHARE)),
    saysOffGivenOn: fit.said.map((rows) => Math.min(rows[1]![0]!, MOST_ERROR_SHARE)),
  };
}
