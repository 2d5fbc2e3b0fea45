import type { RuleSpec, Site } from "../../site/site.js";
import { ON } from "../../timeline/timeline.js";
import type { LaneHistory } from "../replay/excerpts.js";
import { eachStretch } from "./joint-history.js";
import type { MarginHours, MarginSummary } from "../judgement.js";
import type { Margin } from "./margin.js";
import { withExcerpts } from "./near-miss-excerpts.js";
import { nearMisses } from "./near-misses.js";
import type { WrongTime } from "./context.js";
import { HOUR_MS } from "../../ground/units.js";


/** The margin in hours, over the whole period and over the time in which firing would have been wrong, and its near misses, with excerpts cut from `histories`. */
export function marginSummary(rule: RuleSpec, site: Site, margin: Margin, wrong: WrongTime, firings: readonly number[], histories: readonly LaneHistory[]): MarginSummary {
  const all = new Map<number, number>();
  const whileWrong = new Map<number, number>();
  eachStretch(margin.history, wrong.looked, (from, to, pattern, state) => {
    const at = margin.ofPattern[pattern]!;
    all.set(at, (all.get(at) ?? 0) + to - from);
    if (state === ON) whileWrong.set(at, (whileWrong.get(at) ?? 0) + to - from);
  });
  return { exact: margin.exact, hoursAt: inHours(all), hoursAtWhileWrong: inHours(whileWrong), nearMisses: withExcerpts(nearMisses(rule, site, margin, wrong, firings), histories) };
}

function inHours(totals: ReadonlyMap<number, number>): MarginHours[] {
  return [...totals].sort(([a], [b]) => a - b).map(([margin, ms]) => [Number.isFinite(margin) ? margin : null, ms / HOUR_MS]);
}
