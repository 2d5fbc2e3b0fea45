import { readExports } from "../../src/intake/read-exports.js";
import { readingCount } from "../../src/intake/unpack.js";
import { settlePeriod } from "../../src/intake/period.js";
import { replay } from "../../src/judge/replay/replay.js";
import { prepareRule } from "../../src/judge/rule/prepare.js";
import { signalAccounts } from "../../src/truth/signals/accounts.js";
import type { RuleSpec, Site } from "../../src/site/site.js";
import { durations } from "../../src/timeline/durations.js";
import { overlap } from "../../src/timeline/overlap.js";
import type { Figures } from "./duckdb-figures.js";
import type { Interval } from "../../src/ground/intervals.js";

/** The figures of {@link Figures} as an audit of a site of `writeFleet` works them out, with its first rule for every bay, and the period audited. */
export async function ourFigures(site: Site): Promise<{ readonly bays: readonly Figures[]; readonly period: Interval }> {
  const { readings } = await readExports(site, { onSetAside: () => undefined });
  const { period } = settlePeriod(site, readings, { form: "all" });
  const accounts = signalAccounts(site, readings, period);
  const account = (signal: string) => accounts.get(signal)!.account;
  const names = site.subjects.flatMap((subject) => (subject.class === "bay" ? [subject.id.replace("bay-", "")] : []));
  const bays = names.map((bay): Figures => {
    const { offMs, onMs, unknownMs } = durations(account(`tag-${bay}`));
    return {
      bay,
      together: [...overlap(account(`over-${bay}`), account(`wall-${bay}`))],
      tag: [offMs, onMs, unknownMs],
      firings: replay(prepareRule(site, ruleFor(bay, site)), accounts).firings,
      readings: ["over", "wall", "rail", "tag"].map((signal) => readingCount(readings.get(`${signal}-${bay}`)!)),
    };
  });
  return { bays, period };
}

/** The first rule of the site, which is for the first bay, for another one. */
function ruleFor(bay: string, { rules: [first] }: Site): RuleSpec {
  return { ...first!, when: JSON.parse(JSON.stringify(first!.when).replaceAll('-01"', `-${bay}"`)) as RuleSpec["when"] };
}
