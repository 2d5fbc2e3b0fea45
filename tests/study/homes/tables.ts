import { shareEstimate } from "../../../src/statistics/share.js";
import { BINS, type JudgedRule, type Measured } from "./measure.js";

/** One row of the study. */
export interface Row {
  readonly home: string;
  readonly diaryDays: number;
  readonly months: number;
  readonly measured: Measured;
  readonly judged: readonly JudgedRule[];
}

const percent = (hits: number, of: number, digits = 1): string => (of === 0 ? "–" : `${((100 * hits) / of).toFixed(digits)} %`);

/** Arrivals and departures, and what is not known. */
export function turnsTable(rows: readonly Row[]): string {
  const head = "| home | diary | turns | within 60 s | long ones | within 60 s | invented a month | wrong time | unknown time |";
  return [
    head,
    "| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
    ...rows.map(({ home, diaryDays, months, measured: m }) => {
      const wrongMs = m.told.reduce((sum, one) => sum + one.wrongMs, 0);
      return `| ${home} | ${diaryText(diaryDays)} | ${m.turns} | ${percent(m.placed, m.turns)} | ${m.longTurns} | ${percent(m.longPlaced, m.longTurns)} | ${(m.invented / months).toFixed(2)} | ${percent(wrongMs, m.totalMs, 2)} | ${percent(m.unknownMs, m.totalMs)} |`;
    }),
  ].join("\n");
}

/** What became of the long turns that were not told of within a minute. */
export function untoldText(rows: readonly Row[]): string {
  const missed = rows.reduce((sum, { measured: m }) => sum + m.longTurns - m.longPlaced, 0);
  const untold = rows.reduce((sum, { measured: m }) => sum + m.longUntold, 0);
  return `Of ${missed} long turns not told of within 60 s, ${untold} lie beside time of which the reference says that it does not know.`;
}

/** Minutes by the probability they were told with; a stretch is one look for the interval. */
export function reliabilityTable(rows: readonly Row[]): string {
  const names = BINS.slice(1).map((_, i) => `${BINS[i]} to ${i === BINS.length - 2 ? 1 : BINS[i + 1]}`);
  return [
    `| home | diary | ${names.map((name) => `told ${name}: minutes right (stretches, 95 %)`).join(" | ")} |`,
    `| --- | --- |${" ---: |".repeat(names.length)}`,
    ...rows.map(({ home, diaryDays, measured }) => `| ${home} | ${diaryText(diaryDays)} | ${measured.told.map(cell).join(" | ")} |`),
  ].join("\n");
}

function cell(bin: Measured["told"][number], place: number): string {
  if (bin.ms === 0) return "none";
  const { low, high } = shareEstimate(bin.stretches - bin.wrongStretches, bin.stretches, 0.95);
  const fails = bin.stretches > 0 && (high ?? 1) < BINS[place]! ? " **below**" : "";
  return `${percent(bin.ms - bin.wrongMs, bin.ms, 2)} of ${Math.round(bin.ms / 60_000)}, told ${(bin.sum / bin.ms).toFixed(3)} (${bin.stretches}: ${(100 * (low ?? 0)).toFixed(1)}–${(100 * (high ?? 1)).toFixed(1)} %)${fails}`;
}

/** What lock rules that listen to stirs are judged to be. */
export function verdictTable(rows: readonly Row[]): string {
  const head = "| home | diary | rule | months | firings | truly wrong | held right | held wrong | unverified | clear | not proven | refused |";
  return [
    head,
    "| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
    ...rows.flatMap(({ home, diaryDays, judged }) =>
      [...new Set(judged.map(({ rule }) => rule))].map((rule) => {
        const own = judged.filter((one) => one.rule === rule);
        const sum = (of: (one: JudgedRule) => number): number => own.reduce((total, one) => total + of(one), 0);
        const is = (verdict: string): number => own.filter((one) => one.verdict === verdict).length;
        return `| ${[home, diaryText(diaryDays), rule, own.length, sum((one) => one.firings), sum((one) => one.trulyWrong), sum((one) => one.right), sum((one) => one.wrong), sum((one) => one.unverified), is("clear to enable"), is("not proven yet"), is("do not enable")].join(" | ")} |`;
      }),
    ),
  ].join("\n");
}

function diaryText(days: number): string {
  return days === 0 ? "none" : `${days} days`;
}
