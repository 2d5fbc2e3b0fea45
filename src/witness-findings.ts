import type { BandAdvice } from "./truth/bands/advice.js";
import type { ClockOffset } from "./truth/clocks/offsets.js";
import type { ToConfirm } from "./judge/confirm/to-confirm.js";
import type { SignalChange } from "./compare/signals/change-detection.js";
import type { DiaryConflicts } from "./compare/signals/diary-conflicts.js";
import type { SubjectDisagreements } from "./compare/signals/disagreements.js";

/** What was worked out about the witnesses themselves. Instants are epoch milliseconds. */
export interface WitnessWork {
  readonly diaryConflicts: DiaryConflicts;
  readonly disagreements: readonly SubjectDisagreements[];
  readonly clocks: readonly ClockOffset[];
  readonly bands: readonly BandAdvice[];
  readonly changes: readonly SignalChange[];
  readonly toConfirm: ToConfirm;
}

/** The same with instants as text, by findings key; `conflicts` belongs under `diary`. */
export function witnessFindings(work: WitnessWork, iso: (instant: number) => string): { readonly conflicts: object; readonly keys: object } {
  const span = <Stretch extends { readonly from: number; readonly to: number }>(stretch: Stretch) => ({ ...stretch, from: iso(stretch.from), to: iso(stretch.to) });
  return {
    conflicts: { ...work.diaryConflicts, list: work.diaryConflicts.list.map(span) },
    keys: {
      disagreements: work.disagreements.map((subject) => ({
        ...subject,
        list: subject.list.map((one) => ({
          ...span(one),
          excerpt: { ...span(one.excerpt), lanes: one.excerpt.lanes.map((lane) => ({ ...lane, steps: lane.steps.map(([at, state]) => [iso(at), state]) })) },
        })),
      })),
      clocks: work.clocks,
      bands: work.bands.map((advice) => ({ ...advice, otherModes: advice.otherModes.map((mode) => ({ ...mode, firstAt: iso(mode.firstAt) })) })),
      changes: work.changes.map((change) => ({ ...change, since: change.since === null ? null : iso(change.since), points: change.points.map(({ day, value }) => [iso(day), value]) })),
      toConfirm: {
        ...work.toConfirm,
        moments: work.toConfirm.moments.map((moment) => ({ ...moment, at: iso(moment.at) })),
        rows: work.toConfirm.rows.map(span),
      },
    },
  };
}
