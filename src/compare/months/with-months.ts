import { pairs } from "d3-array";
import { DAY_MS } from "../../ground/units.js";
import { countsOf, ruleCounts } from "../../result/count-findings.js";
import type { Counts } from "../../result/counts.js";
import type { Months } from "../../result/months.js";
import type { Findings, Undecided } from "../../result/findings.js";
import type { RuleFinding } from "../../result/rules.js";
import type { Site } from "../../site/site.js";
import { changesOf } from "./changes.js";
import { confirmedOf, withConfirmed } from "../../judge/design/road.js";
import { cumulated, designOver, sameRule } from "./cumulate.js";
import { selectEarlier } from "./select.js";
import { notCompared, siteFileChanges } from "./caveats.js";
import { clockSeriesOf, seriesOf } from "./series.js";

/** A shorter gap between two results (milliseconds) is the edge of the readings, no missing month. Our own choice. */
const LEAST_GAP_MS = DAY_MS;

/**
 * The findings of a period with what earlier results of the same site add: what changed beyond chance, and each rule's
 * verdict over all periods in which it was the same rule. `found` may hold any results; `months` lists what is used and
 * what is not. The single period's figures are kept.
 */
export function withMonths(findings: Undecided, site: Site, found: readonly Counts[]): Undecided {
  // 1. Which earlier results take part.
  const { used, leftOut } = selectEarlier(found, findings.site.name, findings.period.from);
  const now = countsOf(findings);

  // 2. Evidence over the periods of the same rule.
  const startedAnew: Months["startedAnew"][number][] = [];
  const rules = findings.rules.map((rule, i) => {
    const history = sameRule(rule, used);
    if (history.startedAnew !== null) startedAnew.push({ rule: rule.name, text: history.startedAnew });
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- the counts are made from the same rules
    return cumulated(rule, findings.period.label, now.rules[i]!, history.periods, site, findings.period.to);
  });

  // 3. What changed, and the picture over the periods.
  const months: Months = {
    earlier: used.map(({ period: { label, from, to, days } }) => ({ label, from, to, days })),
    gaps: gapsOf([...used, now]),
    leftOut: [...leftOut],
    changes: changesOf(now, used),
    series: used.length === 0 ? [] : seriesOf(now, used),
    clocks: used.length === 0 ? [] : clockSeriesOf(now, used),
    siteFile: siteFileChanges(now, used),
    notCompared: notCompared(now, used),
    startedAnew,
  };
  return { ...findings, rules, months };
}

/**
 * What earlier results make of a rule of this period: its verdict over all periods in which it was the same rule. For
 * asking what another outcome of this period would change.
 */
export function overMonths(period: Findings["period"], site: Site, found: readonly Counts[]): (rule: RuleFinding) => RuleFinding {
  const { used } = selectEarlier(found, site.name, period.from);
  const roads = new Map<string, ReturnType<typeof designOver>>();
  // It takes most of the time, and outcomes move only what they confirm: worked out once a rule.
  const roadOver: typeof designOver = (rule, periods, figures, standard) => {
    const road = roads.get(rule.name) ?? designOver(rule, periods, figures, standard);
    roads.set(rule.name, road);
    const { design } = road;
    return design?.figures == null ? road : { ...road, design: { ...design, figures: withConfirmed(design.figures, confirmedOf(figures)) } };
  };
  return (rule) => cumulated(rule, period.label, ruleCounts(rule, period.days), sameRule(rule, used).periods, site, period.to, roadOver);
}

function gapsOf(inOrder: readonly Counts[]): Months["gaps"] {
  return pairs(inOrder, (before, after) => ({ from: before.period.to, to: after.period.from })).filter(({ from, to }) => to - from >= LEAST_GAP_MS);
}
