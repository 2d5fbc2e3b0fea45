import type { DiaryEntry } from "../../intake/readings.js";
import type { SignalAccount } from "../signals/account.js";
import type { Site, SubjectClass } from "../../site/site.js";
import type { Estimate } from "../../statistics/estimate.js";
import { modelInputs } from "./book.js";
import { decode } from "./decode.js";
import { knownTime, type KnownTime } from "./known-time.js";
import { fitModel } from "./model.js";
import { errorRateEstimates } from "./rate-intervals.js";
import type { Interval } from "../../ground/intervals.js";

/** How one subject's reference was worked out, all its witnesses included. */
export interface ReferenceModel {
  readonly subject: string;
  readonly segments: number;
  /** Segments whose truth the diary knows. */
  readonly diarySegments: number;
  /** In how much of the time the truth was known, and by whom. */
  readonly known: KnownTime;
  readonly witnesses: readonly WitnessModel[];
  /** Groups of witnesses that share a cause: their votes weigh less than one each. */
  readonly causes: readonly CauseModel[];
  /** Movements of other classes near the subject's candidate transitions. Empty where nothing is made of them. */
  readonly movements: readonly MovementModel[];
  /** Whether the error rates can be told from what was seen; if not they are held at the prior. */
  readonly identified: boolean;
  readonly why: string;
  readonly iterations: number;
  /** What the last iteration added to the penalised log-likelihood. */
  readonly gain: number;
  readonly converged: boolean;
}

/** One witness: how often it says on while the subject is off, and off while it is on; shares of segments, not of time. */
export interface WitnessModel {
  readonly signal: string;
  readonly votes: number;
  readonly saysOnGivenOff: Estimate;
  readonly saysOffGivenOn: Estimate;
  /** What the model worked with: the estimates, or the prior where nothing can be told. */
  readonly used: { readonly saysOnGivenOff: number; readonly saysOffGivenOn: number };
}

/** A group: `weight` is what each vote counts when all of them vote; `correlation` of their errors, estimated from `errorSegments`. */
export interface CauseModel {
  readonly signals: readonly string[];
  readonly causes: readonly string[];
  readonly correlation: number;
  readonly errorSegments: number;
  readonly weight: number;
}

/** How often a class moved nearby when the subject truly changed, and at boundaries where it did not. */
export interface MovementModel {
  readonly class: SubjectClass;
  readonly givenChange: number;
  readonly givenNone: number;
}

/** The models of all subjects in the site file's order, for the findings. Throws as {@link modelInputs}. */
export function referenceModels(site: Site, accounts: ReadonlyMap<string, SignalAccount>, diary: readonly DiaryEntry[], period: Interval, detected: readonly (readonly [string, string])[] = []): ReferenceModel[] {
  const inputOf = modelInputs(site, accounts, diary, period, detected);
  return site.subjects.map(({ id }) => {
    const input = inputOf(id, []);
    const model = fitModel(input);
    const { rates } = model.learnt;
    const estimates = errorRateEstimates(model, site.confidence);
    return {
      subject: id,
      segments: model.layout.boundaries.length + 1,
      diarySegments: model.layout.written.filter((state) => state !== 2).length,
      known: knownTime(decode(model, input.witnesses, input.written, period)),
      witnesses: input.witnesses.map((witness, w) => ({
        signal: witness.id,
        votes: model.layout.votes[w]!.filter((vote) => vote !== 2).length,
        ...estimates[w]!,
        used: { saysOnGivenOff: rates.saysOnGivenOff[w]!, saysOffGivenOn: rates.saysOffGivenOn[w]! },
      })),
      causes: model.groups.flatMap(({ members, causes }, g) => {
        if (members.length < 2) return [];
        const { correlation, errorSegments } = model.correlations[g]!;
        return [{ signals: members.map((w) => input.witnesses[w]!.id), causes, correlation, errorSegments, weight: 1 / (1 + (members.length - 1) * correlation) }];
      }),
      // Of a subject that never changed there is no share to tell, and the prior's is no finding.
      movements: model.layout.boundaries.length === 0 ? [] : model.nearby.map((one, c) => ({ class: one.class, givenChange: rates.movedGivenChange[c]!, givenNone: rates.movedGivenStay[c]! })),
      identified: model.identification.identified,
      why: model.identification.why,
      iterations: model.learnt.iterations,
      gain: model.learnt.gain,
      converged: model.learnt.converged,
    };
  });
}
