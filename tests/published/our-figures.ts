import { readExports } from "../../src/intake/read-exports.js";
import { readingCount } from "../../src/intake/unpack.js";
import { settlePeriod } from "../../src/intake/period.js";
import { replay } from "../../src/judge/replay/replay.js";
import { prepareRule } from "../../src/judge/rule/prepare.js";
import { signalAccounts } from "../../src/truth/signals/accounts.js";
import type { Site } from "../../src/site/site.js";
import { overlap } from "../../src/timeline/overlap.js";
import type { Figures } from "./duckdb-figures.js";
import type { Interval } from "../../src/ground/intervals.js";

/** The figures of {@link Figures} as an audit of the site works them out, with its first rule, and the period audited. */
export async function ourFigures(site: Site, [overhead, wall, contact]: readonly [string, string, string]): Promise<Figures & { readonly period: Interval }> {
  const { readings } = await readExports(site, { onSetAside: () => undefined });
  const { period } = settlePeriod(site, readings, { form: "all" });
  const accounts = signalAccounts(site, readings, period);
  return {
    together: [...overlap(accounts.get(overhead)!.account, accounts.get(wall)!.account)],
    firings: replay(prepareRule(site, site.rules[0]!), accounts).firings,
    readings: [overhead, wall, contact].map((id) => readingCount(readings.get(id)!)),
    period,
  };
}
