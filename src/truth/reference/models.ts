/* eslint-disable @typescript-eslint/no-non-null-assertion --
   the lists of a fitted model are by witness, by group or by class of neighbours */
import { totalMs, type Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";
import type { DiaryEntry } from "../../intake/readings.js";
import type { Site } from "../../site/site.js";
import type { SignalAccount } from "../signals/account.js";
import { modelInputs } from "./book.js";
import { decode } from "./decode.js";
import { fitModel } from "./fit-model.js";
import { errorRateEstimates } from "./rate-intervals.js";
import type { Basis, ReferenceSegment } from "./reference.js";
import type { ReferenceModel } from "../../result/references.js";

/** The models of all subjects in the site file's order, for the findings. Throws as {@link modelInputs}. */
export function referenceModels(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  diary: readonly DiaryEntry[],
  period: Interval,
  detected: readonly (readonly [string, string])[] = [],
): ReferenceModel[] {
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
      known: knownTime(decode(model, input, period)),
      witnesses: input.witnesses.map((witness, w) => ({
        signal: witness.id,
        votes: model.layout.votes[w]!.filter((vote) => vote !== 2).length,
        ...estimates[w]!,
        used: { saysOnGivenOff: rates.saysOnGivenOff[w]!, saysOffGivenOn: rates.saysOffGivenOn[w]! },
      })),
      causes: model.groups.flatMap(({ members, causes }, g) => {
        if (members.length < 2) return [];
        const { correlation, errorSegments } = model.correlations[g]!;
        return [
          {
            signals: members.map((w) => input.witnesses[w]!.id),
            causes,
            correlation,
            errorSegments,
            weight: 1 / (1 + (members.length - 1) * correlation),
          },
        ];
      }),
      // A subject that never changed shows no share, and the prior's is no finding.
      movements:
        model.layout.boundaries.length === 0
          ? []
          : model.nearby.map((one, c) => ({
              class: one.class,
              givenChange: rates.movedGivenChange[c]!,
              givenNone: rates.movedGivenStay[c]!,
            })),
      identified: model.identification.identified,
      why: model.identification.why,
      iterations: model.learnt.iterations,
      gain: model.learnt.gain,
      converged: model.learnt.converged,
    };
  });
}

/**
 * Hours of the period by who knew the truth about a subject; they add up to the period. All but `diaryHours` lie
 * outside the diary.
 */
export interface KnownTime {
  readonly diaryHours: number;
  readonly severalHours: number;
  readonly oneHours: number;
  readonly noneHours: number;
}

/** Below this share of time known outside the diary a note says so. Our own choice. */
const LEAST_KNOWN = 0.5;

/** See {@link KnownTime}. */
function knownTime(segments: readonly ReferenceSegment[]): KnownTime {
  const hours = (basis: Basis): number => totalMs(segments.filter((one) => one.basis === basis)) / HOUR_MS;
  return { diaryHours: hours("diary"), severalHours: hours("several"), oneHours: hours("one"), noneHours: hours("none") };
}

/**
 * A note on every subject of which less than half of the time outside the diary is known: a diary of part of the period
 * may hide that nothing is known of the rest. If nothing is known at all, another note says so and why.
 */
export function knownTimeNotes(references: readonly { readonly subject: string; readonly known?: KnownTime | undefined }[]): string[] {
  return references.flatMap(({ subject, known }) => {
    if (known === undefined) return [];
    const { diaryHours, severalHours, oneHours, noneHours } = known;
    const outside = severalHours + oneHours + noneHours;
    if (outside === 0 || severalHours + oneHours >= LEAST_KNOWN * outside || noneHours === outside + diaryHours) return [];
    const share = `${Math.round((100 * noneHours) / outside)} %`;
    const where =
      diaryHours === 0 ? "Nobody" : `Outside your diary (${Math.round(diaryHours)} of ${Math.round(diaryHours + outside)} h) nobody`;
    return [`${where} can tell for ${share} of the time what happened with ${subject}: its figures rest on the other times only.`];
  });
}
