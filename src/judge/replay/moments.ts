import { excerptAround, type LaneHistory } from "./excerpts.js";
import type { JudgedFiring, RuleMoment } from "../judgement.js";

/** For every firing that was wrong or could not be verified: an excerpt of the rule's lanes around it. */
export function ruleMoments(firings: readonly JudgedFiring[], histories: readonly LaneHistory[]): RuleMoment[] {
  return firings.filter((firing) => firing.outcome !== "right").map((firing) => ({ firing: firing.id, ...excerptAround(histories, firing.at, firing.at) }));
}
