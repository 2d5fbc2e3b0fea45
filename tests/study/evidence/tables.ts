/** The tables of the study: coverage with exact intervals, and medians of ratios. */
import { median } from "d3-array";
import { shareEstimate } from "../../../src/statistics/share.js";
import type { CountedLook, CountedSetting, CountedYear } from "./counted-homes.js";
import { NO_PARTS, type HouseholdSetting, type HouseholdYear, type MonthlyLook } from "./households.js";
import { LOOKS, MOST_ASKED, type Look } from "./run-setting.js";
import type { Setting, Truth } from "./settings.js";

/** Everything that came of a run. */
export interface Results {
  readonly settings: readonly Setting[];
  readonly households: readonly HouseholdSetting[];
  readonly histories: number;
  /** Histories that were looked at every month. */
  readonly everyMonth: number;
  readonly truths: ReadonlyMap<string, Truth>;
  /** Looks of each history, by setting. */
  readonly looks: ReadonlyMap<string, readonly (readonly Look[])[]>;
  readonly years: ReadonlyMap<string, readonly HouseholdYear[]>;
  readonly countedHomes: readonly CountedSetting[];
  readonly counted: ReadonlyMap<string, readonly CountedYear[]>;
}

/** The least coverage that a bound at 95 % may have. */
const LEAST = 0.95;
/** Marks a bound that is used where its conditions are not met. */
const MARK = "†";

/** All tables, each with its title. */
export function studyTables(results: Results): string {
  return [
    ["## Two parts wrong at once by chance", chanceTable(results)],
    ["## With a common cause, and where the conditions do not hold", programTable(results)],
    ["## What the program notices", noticeTable(results)],
    ["## A household, through the audit", householdTable(results)],
    ["## Counting: the only road of a rule that locks", countedTable(results)],
  ]
    .map((parts) => parts.join("\n\n"))
    .join("\n\n");
}

/** How often a bound lay at or above the true rate, over looks or whole histories. */
interface Held {
  readonly of: string;
  readonly months: string;
  readonly count: number;
  readonly trials: number;
}

/** Coverages below 0.95 of bounds whose conditions are met, in words. */
export function shortfalls(results: Results): string[] {
  const held: Held[] = [
    ...results.settings.flatMap((setting) => [
      ...(setting.evenFails === null && !setting.common ? heldOf(results, setting, "F", ({ even }) => even) : []),
      ...(setting.clockFails === null && !setting.common ? heldOf(results, setting, "G", ({ clock }) => clock) : []),
      ...(setting.clockFails === null && setting.common ? heldOf(results, setting, "G with a common cause", ({ program }) => program!.bound) : []),
    ]),
    ...results.households.flatMap((household) => [
      ...(household.evenFails === null ? heldAtHome(results, household, "F", ({ even }) => even, ({ even }) => even) : []),
      ...(household.clockFails === null ? heldAtHome(results, household, "G", ({ clock }) => clock, ({ clock }) => clock) : []),
      ...(household.clockFails === null ? heldAtHome(results, household, "G with a common cause", ({ program }) => program!.bound, ({ whole }) => whole) : []),
    ]),
    ...results.countedHomes.flatMap((home) => [
      ...LOOKS.map((months) => ({ of: `counting, ${home.name}`, months: monthsText(months), ...countHeld(countedLooks(results, home, months).map(({ bound }) => bound), truthOf(results, home)) })),
      { of: `counting, ${home.name}`, months: "every look", ...countedEver(results, home) },
    ]),
  ];
  return held.filter(({ count, trials }) => trials > 0 && count / trials < LEAST).map(({ of, months, count, trials }) => `${of}, ${months}: ${count} of ${trials}${(shareEstimate(count, trials, 0.95).high ?? 1) >= LEAST ? " (too few to tell from 95 of 100)" : ""}`);
}

function heldAtHome(results: Results, household: HouseholdSetting, bound: string, value: (look: Look) => number, monthly: (look: MonthlyLook) => number): Held[] {
  const of = `${bound}, ${household.name}`;
  return [
    ...LOOKS.map((months) => ({ of, months: monthsText(months), ...countHeld(householdLooks(results, household, months).map(value), truthOf(results, household)) })),
    { of, months: "every look", ...homeEver(results, household, monthly) },
  ];
}

/** Years in which no monthly look, all months so far joined, put the bound below the truth. */
function homeEver(results: Results, household: HouseholdSetting, value: (look: MonthlyLook) => number): { readonly count: number; readonly trials: number } {
  const truth = truthOf(results, household);
  const years = (results.years.get(household.id) ?? []).filter(({ monthly }) => monthly.length > 0);
  return { count: years.filter(({ monthly }) => monthly.every((look) => value(look) >= truth)).length, trials: years.length };
}

function countedLooks({ counted }: Results, { id }: CountedSetting, months: number): CountedLook[] {
  return (counted.get(id) ?? []).flatMap(({ looks }) => looks.filter((look) => look.months === months));
}

function countedEver(results: Results, home: CountedSetting): { readonly count: number; readonly trials: number } {
  const truth = truthOf(results, home);
  const years = results.counted.get(home.id) ?? [];
  return { count: years.filter(({ monthly }) => monthly.every(({ bound }) => bound >= truth)).length, trials: years.length };
}

function heldOf(results: Results, setting: Setting, bound: string, value: (look: Look) => number): Held[] {
  const truth = truthOf(results, setting);
  const of = `${bound}, ${setting.name}`;
  return [
    ...LOOKS.map((months) => ({ of, months: monthsText(months), ...countHeld(looksOf(results, setting, months).map(value), truth) })),
    { of, months: "every look", ...everHeld(results, setting, value) },
  ];
}

function countHeld(bounds: readonly number[], truth: number): { readonly count: number; readonly trials: number } {
  return { count: bounds.filter((bound) => bound >= truth).length, trials: bounds.length };
}

/** Histories in which no monthly look put the bound below the truth. */
function everHeld(results: Results, setting: Setting, value: (look: Look) => number): { readonly count: number; readonly trials: number } {
  const truth = truthOf(results, setting);
  const histories = (results.looks.get(setting.id) ?? []).slice(0, results.everyMonth);
  return { count: histories.filter((looks) => looks.every((look) => value(look) >= truth)).length, trials: histories.length };
}

function truthOf({ truths }: Results, { id }: { readonly id: string }): number {
  return truths.get(id)?.perYear ?? NaN;
}

function looksOf({ looks }: Results, { id }: Setting, months: number): Look[] {
  return (looks.get(id) ?? []).flatMap((history) => history.filter((look) => look.months === months));
}

function householdLooks({ years }: Results, { id }: HouseholdSetting, months: number): Look[] {
  return (years.get(id) ?? []).flatMap(({ looks }) => looks.filter((look) => look.months === months));
}

function chanceTable(results: Results): string {
  const rows = results.settings
    .filter(({ common }) => !common)
    .flatMap((setting) => {
      const truth = truthOf(results, setting);
      const marks = [setting.evenFails, setting.clockFails].map((fails) => (fails === null ? "" : ` ${MARK}`));
      const looks = LOOKS.map((months) => {
        const of = looksOf(results, setting, months);
        const each = (value: (look: Look) => number, mark: string | undefined): string[] => [
          covered(countHeld(of.map(value), truth)) + (mark ?? ""),
          ratio(of.map((look) => value(look) / truth)),
          ratio(of.map((look) => look.counting / value(look))),
        ];
        return [months === LOOKS[0] ? setting.name : "", months === LOOKS[0] ? rate(truth) : "", `${months}`, ...each(({ even }) => even, marks[0]), ...each(({ clock }) => clock, marks[1])];
      });
      const ever = [({ even }: Look) => even, ({ clock }: Look) => clock].flatMap((value, i) => [covered(everHeld(results, setting, value)) + (marks[i] ?? ""), "", ""]);
      return [...looks, ["", "", "every look", ...ever]];
    });
  return table(["setting", "true a year", "months", "F at or above it", "F ÷ true", "counting ÷ F", "G at or above it", "G ÷ true", "counting ÷ G"], rows);
}

function programTable(results: Results): string {
  const rows = results.settings
    .filter(({ common, clockFails }) => common || clockFails !== null)
    .flatMap((setting) => {
      const truth = truthOf(results, setting);
      const mark = setting.clockFails === null ? "" : ` ${MARK}`;
      const looks = LOOKS.map((months) => {
        const bounds = looksOf(results, setting, months).flatMap(({ program }) => (program === null ? [] : [program.bound]));
        const first = months === LOOKS[0];
        return [first ? setting.name : "", first ? rate(truth) : "", first ? (setting.clockFails ?? "nothing") : "", `${months}`, covered(countHeld(bounds, truth)) + mark, ratio(bounds.map((bound) => bound / truth))];
      });
      return setting.common ? [...looks, ["", "", "", "every look", covered(everHeld(results, setting, ({ program }) => program!.bound)) + mark, ""]] : looks;
    });
  return table(["setting", "true a year", "what fails", "months", "whole bound at or above it", "bound ÷ true"], rows);
}

/** Conditions that depend on what was seen, as the tables name them. */
const NOTICED = [
  ["shared-days", "the same days"],
  ["true-together", "a true event moved both"],
  ["contradicted", "more seen than the bound explains"],
  ["wrong-together", "more wrong together than chance explains"],
] as const;

function noticeTable(results: Results): string {
  const rows = results.settings.flatMap((setting) =>
    LOOKS.map((months) => {
      const asked = looksOf(results, setting, months).slice(0, MOST_ASKED);
      const programs = asked.flatMap(({ program }) => (program === null ? [] : [program]));
      const share = (fails: (codes: readonly string[]) => boolean): string => covered({ count: programs.filter(({ failed }) => fails(failed)).length, trials: programs.length });
      const slides = programs.flatMap(({ slid }) => (slid === null ? [] : [slid / truthOf(results, setting)]));
      const first = months === LOOKS[0];
      return [first ? setting.name : "", `${months}`, ...NOTICED.map(([code]) => share((codes) => codes.includes(code))), share((codes) => NOTICED.some(([code]) => codes.includes(code))), ratio(slides)];
    }),
  );
  return table(["setting", "months", ...NOTICED.map(([, words]) => words), "any of them", "slides ÷ true"], rows);
}

function householdTable(results: Results): string {
  const open = results.households.filter(({ clockFails }) => clockFails !== NO_PARTS);
  const rows = open.flatMap((household) => {
    const truth = truthOf(results, household);
    const [evenMark, clockMark] = [household.evenFails, household.clockFails].map((fails) => (fails === null ? "" : ` ${MARK}`));
    const rowsOf = LOOKS.map((months) => {
      const looks = householdLooks(results, household, months);
      const first = months === LOOKS[0];
      const share = (value: (look: Look) => number, mark: string | undefined): string[] => [covered(countHeld(looks.map(value), truth)) + (mark ?? ""), ratio(looks.map((look) => value(look) / truth))];
      return [
        first ? household.name : "",
        first ? rate(truth) : "",
        `${months}`,
        ...share(({ even }) => even, evenMark),
        ...share(({ clock }) => clock, clockMark),
        ratio(looks.map(({ counting, clock }) => counting / clock)),
        ...share(({ program }) => program!.bound, clockMark),
        ratio(looks.flatMap(({ program }) => (program!.slid === null ? [] : [program!.slid / truth]))),
        covered({ count: looks.filter(({ program }) => NOTICED.some(([code]) => program!.failed.includes(code))).length, trials: looks.length }),
      ];
    });
    const ever = (value: (look: MonthlyLook) => number, mark: string | undefined): string => covered(homeEver(results, household, value)) + (mark ?? "");
    return [...rowsOf, ["", "", "every look", ever(({ even }) => even, evenMark), "", ever(({ clock }) => clock, clockMark), "", "", ever(({ whole }) => whole, clockMark), "", "", ""]];
  });
  return table(["household", "true a year", "months", "F at or above it", "F ÷ true", "G at or above it", "G ÷ true", "counting ÷ G", "G and 10 % at or above it", "÷ true", "slides ÷ true", "something noticed"], rows);
}

/** Bounds by counting, of the program's own verdicts. */
function countedTable(results: Results): string {
  const rows = results.countedHomes.flatMap((home) => {
    const truth = truthOf(results, home);
    const looks = LOOKS.map((months) => {
      const of = countedLooks(results, home, months);
      const first = months === LOOKS[0];
      return [first ? home.name : "", first ? rate(truth) : "", `${months}`, `${of.length}`, covered(countHeld(of.map(({ bound }) => bound), truth)), ratio(of.map(({ bound }) => bound / truth))];
    });
    const ever = countedEver(results, home);
    return [...looks, ["", "", "every look", `${ever.trials}`, covered(ever), ""]];
  });
  return table(["household", "true a year", "months", "looks", "bound at or above it", "bound ÷ true"], rows);
}

/** How the program closes the road of a household whatever was seen, a line each. */
export function closedLines(results: Results): string[] {
  return results.households.map((household) => {
    const years = results.years.get(household.id) ?? [];
    const [text] = years.flatMap((year) => (year.text === null ? [] : [year.text]));
    const audits = years.reduce((sum, year) => sum + year.audits, 0);
    const closed = years.reduce((sum, year) => sum + year.closed.length, 0);
    return `- ${household.name}: ${text === undefined ? `open in all of ${audits} audits.` : `closed in ${closed} of ${audits} audits: "${text}"`}`;
  });
}

function monthsText(months: number): string {
  return months === 1 ? "1 month" : `${months} months`;
}

function covered({ count, trials }: { readonly count: number; readonly trials: number }): string {
  if (trials === 0) return "–";
  const { low, high } = shareEstimate(count, trials, 0.95);
  return `${(count / trials).toFixed(3)} (${(low ?? 0).toFixed(3)}–${(high ?? 1).toFixed(3)})`;
}

function ratio(values: readonly number[]): string {
  const middle = median(values);
  return middle === undefined || Number.isNaN(middle) ? "–" : !Number.isFinite(middle) ? "∞" : Number(middle.toPrecision(3)).toString();
}

function rate(perYear: number): string {
  return Number(perYear.toPrecision(4)).toString();
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [line(head), line(head.map((_, i) => (i === 0 ? "---" : "---:"))), ...rows.map(line)].join("\n");
}
