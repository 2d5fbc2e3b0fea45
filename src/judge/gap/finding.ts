import { SECOND_MS, YEAR_MS } from "../../ground/units.js";
import type { GapFinding } from "../../result/gap.js";
import { stretches } from "../../timeline/stretches.js";
import { ON } from "../../timeline/timeline.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { confirmedTimeline } from "../rule/facts.js";
import type { ChangePlace, GapScene, SignalLags } from "./gap.js";
import { searchGap } from "./search.js";

/** The gap of a rule at the usual lags of its signals, and how often it would come about; with the limits of {@link searchGap} or without. */
export function gapFinding(rule: RuleOverHistory, lags: SignalLags, limits = true): GapFinding {
  const { searched, why, scene, gapFreeUntil } = searchGap(rule, lags, limits);
  return {
    searched,
    why,
    scene: scene === null ? null : { text: scene.text, changes: scene.changes, widthSeconds: scene.widthMs === null ? null : scene.widthMs / SECOND_MS, perYear: rateOf(scene, rule) },
    freeUntil: gapFreeUntil.map(({ kind, signals, untilMs, ends }) => ({
      kind,
      signals: [...signals],
      seconds: untilMs === null ? null : untilMs / SECOND_MS,
      measuredSeconds: Math.max(0, ...signals.map((signal) => lags.get(signal)?.mostMs ?? 0)) / SECOND_MS,
      ends,
    })),
  };
}

/** Two events without regard to each other, one in the window of the other: the product of their rates and its width. */
function rateOf({ trigger, free, widthMs }: GapScene, rule: RuleOverHistory): number | null {
  if (free === null || widthMs === null) return null;
  return (changesPerYear(trigger, rule) * changesPerYear(free, rule) * widthMs) / YEAR_MS;
}

/** How often a year the subject came (or left), as all witnesses together tell. */
function changesPerYear({ subject }: ChangePlace, { history: { book, period } }: RuleOverHistory): number {
  return (stretches(confirmedTimeline(book(subject, [])), ON).length * YEAR_MS) / (period.to - period.from);
}
