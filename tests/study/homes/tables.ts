import { chanceNamed } from "../verdict/random.js";
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

/** Minutes by the probability they were told with, home by home and of all homes together. */
export function reliabilityTable(rows: readonly Row[]): string {
  const names = BINS.slice(1).map((_, i) => `told ${BINS[i]} to ${i === BINS.length - 2 ? 1 : BINS[i + 1]}`);
  const pooled = [...new Set(rows.map(({ diaryDays }) => diaryDays))].map((diaryDays) => ({ home: "all homes together", diaryDays, told: pooledOf(rows.filter((one) => one.diaryDays === diaryDays)) }));
  return [
    `| home | diary | ${names.map((name) => `${name}: minutes right (95 %)`).join(" | ")} |`,
    `| --- | --- |${" ---: |".repeat(names.length)}`,
    ...[...rows.map(({ home, diaryDays, measured }) => ({ home, diaryDays, told: measured.told })), ...pooled].map(
      ({ home, diaryDays, told }) => `| ${home} | ${diaryText(diaryDays)} | ${told.map((bin, i) => cell(bin, `${home} ${diaryDays} ${i}`)).join(" | ")} |`,
    ),
  ].join("\n");
}

type Bin = Measured["told"][number];

function pooledOf(rows: readonly Row[]): Bin[] {
  return BINS.slice(1).map((_, i) => {
    const bins = rows.map(({ measured }) => measured.told[i]!);
    const sum = (of: (bin: Bin) => number): number => bins.reduce((total, bin) => total + of(bin), 0);
    return { ms: sum(({ ms }) => ms), wrongMs: sum(({ wrongMs }) => wrongMs), stretches: sum(({ stretches }) => stretches), sum: sum((bin) => bin.sum), months: bins.flatMap(({ months }) => months) };
  });
}

/** As many times the months are drawn again, to see how far the share may lie from what it would be in other months. */
const DRAWS = 2_000;
/** Fewer months with such minutes give no interval. */
const FEWEST_MONTHS = 3;

function cell(bin: Bin, name: string): string {
  if (bin.ms === 0) return "none";
  const right = percent(bin.ms - bin.wrongMs, bin.ms, 2);
  const told = bin.sum / bin.ms;
  const what = `${right} of ${Math.round(bin.ms / 60_000)} in ${bin.stretches}, told ${told.toFixed(3)}`;
  const months = bin.months.filter(({ ms }) => ms > 0);
  if (months.length < FEWEST_MONTHS) return `${what} (too few)`;
  const chance = chanceNamed(name);
  const shares = Array.from({ length: DRAWS }, () => {
    let [ms, wrongMs] = [0, 0];
    for (let i = 0; i < months.length; i += 1) {
      const one = months[Math.floor(chance() * months.length)]!;
      ms += one.ms;
      wrongMs += one.wrongMs;
    }
    return 1 - wrongMs / ms;
  }).sort((a, b) => a - b);
  const [low, high] = [shares[Math.floor(0.025 * DRAWS)]!, shares[Math.ceil(0.975 * DRAWS) - 1]!];
  return `${what} (${(100 * low).toFixed(1)}–${(100 * high).toFixed(1)} %)${high < told ? " **below**" : ""}`;
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
