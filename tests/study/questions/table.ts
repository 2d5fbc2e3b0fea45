import { median, quantile } from "d3-array";
import { shareEstimate } from "../../../src/statistics/share.js";
import type { Setting } from "../verdict/limits.js";
import { monthSorts } from "./months.js";
import type { MonthAnswered } from "./worker.js";

const count = (values: readonly number[]): string =>
  values.length === 0 ? "–" : `${tenth(median(values) ?? 0)} (${tenth(quantile(values, 0.1) ?? 0)} to ${tenth(quantile(values, 0.9) ?? 0)})`;

const tenth = (value: number): string => String(Math.round(value * 10) / 10);

/** How many questions until nothing more could change the verdict: of the months in which any answer could. */
export function askedTable(answers: readonly MonthAnswered[]): string {
  const rows = monthSorts.flatMap(({ id, name }) =>
    [...new Set(answers.map(({ memory }) => memory.id))].map((memory) => {
      const own = answers.filter((one) => one.month === id && one.memory.id === memory);
      const open = own.filter(({ result }) => result.now.asked > 0);
      const before = (read: (one: MonthAnswered["result"]) => number | null): number[] => open.flatMap(({ result }) => read(result) ?? []);
      return `| ${name} | ${memory} | ${own.length} | ${open.length} | ${count(open.map(({ result }) => result.now.asked))} | ${count(before(({ table }) => table))} | ${count(before(({ random }) => random))} |`;
    }),
  );
  return ["| months | answers | months asked about | of these, answers can matter | questions now | rows of the earlier table | its rows in random order |", "| --- | --- | ---: | ---: | ---: | ---: | ---: |", ...rows].join("\n");
}

/** In a sort of month whose rule has no fault, nothing breaks a limit, whatever the setting. */
function trulyOf({ month, setting }: MonthAnswered): Setting {
  return monthSorts.some(({ id, breaks }) => id === month && breaks === null) ? "sound" : setting;
}

/** What became of the verdicts, by what is true of the rule. */
export function verdictTable(answers: readonly MonthAnswered[]): string {
  const settings = [["breaks", "breaks its limit"], ["keeps", "keeps its limits"], ["sound", "has no fault"]] as const;
  const rows = [...new Set(answers.map(({ memory }) => memory.id))].flatMap((memory) =>
    settings.flatMap(([setting, name]) => {
      const own = answers.filter((one) => one.memory.id === memory && trulyOf(one) === setting);
      if (own.length === 0) return [];
      const share = (verdict: string, when: "before" | "after"): string => {
        const hits = own.filter(({ result }) => result.now[when] === verdict).length;
        const { low, high } = shareEstimate(hits, own.length, 0.95);
        return `${hits} (${(100 * (low ?? 0)).toFixed(1)}–${(100 * (high ?? 1)).toFixed(1)} %)`;
      };
      return [`| ${name} | ${memory} | ${own.length} | ${share("clear to enable", "before")} | ${share("clear to enable", "after")} | ${share("do not enable", "before")} | ${share("do not enable", "after")} |`];
    }),
  );
  return ["| the rule truly | answers | months | cleared before | cleared after | refused before | refused after |", "| --- | --- | ---: | ---: | ---: | ---: | ---: |", ...rows].join("\n");
}
