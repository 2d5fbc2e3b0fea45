import { beforeAll, describe, expect, it, vi } from "vitest";
import type { Findings } from "../../src/result/findings.js";
import { controlledBays } from "../../src/report/charts/fleet-control.js";
import { drawAll } from "../../src/report/drawings.js";
import { drawFleet } from "../../src/report/fleet-page.js";
import { localClock } from "../../src/report/local-time.js";
import { origins } from "./chart-origins.js";
import { account, type Chart, layersOf, numberOf, wordsOf } from "./drawn-numbers.js";
import { exampleFindings, exampleFleet } from "./example-findings.js";
import { smallFleet, wideFleet } from "./example-fleets.js";
import { examplePast } from "./example-months.js";

/*
 * What "every number is traceable" means for pictures:
 * - the data a chart is given (its specification's own values) is the very number of the findings, after a change of unit; or,
 *   where places were worked out in px beforehand, all places are even in what they stand for (drawn-numbers.ts);
 * - a word beside a mark that has a digit in it is a name of the findings, or a number written from them as elsewhere in the report;
 * - the labels of an axis say the value they stand at, and it lies on the axis. Which values are labelled is the scale's own
 *   affair and comes from no findings: ticks are the prose of a scale.
 * Px of grid lines and of words are furniture. The charts are those that drawings.ts hands over to be drawn, caught on the way.
 */
const caught = new Map<string, Chart>();
vi.mock("../../src/report/charts/draw.js", () => ({
  draw: (specification: Chart, prefix: string) => {
    caught.set(prefix, specification);
    return Promise.resolve("");
  },
}));
vi.mock("../../src/report/charts/sheet.js", () => ({
  drawSheet: (sheet: Chart, id: string) => {
    caught.set(id, sheet);
    return "";
  },
}));

const clock = localClock("Europe/London");

/** All texts of a result. */
function textsIn(data: unknown): string[] {
  if (typeof data === "string") return [data];
  return typeof data === "object" && data !== null ? Object.values(data).flatMap(textsIn) : [];
}

/** Words with a digit that neither stand in `texts` (cut short by "…" or not) nor are `allowed`; and labels off their axis, or that say another value than theirs. */
async function wrongWords(specification: Chart, allowed: readonly string[], texts: readonly string[]): Promise<string[]> {
  const known = (text: string): boolean => allowed.includes(text) || texts.some((one) => (text.endsWith("…") ? one.startsWith(text.slice(0, -1)) : one === text));
  return (await wordsOf(specification)).flatMap(({ text, value, domain }) => {
    if (!/\d/.test(text)) return [];
    if (domain === null || typeof value !== "number") return known(text) ? [] : [`${text} stands nowhere`];
    const [low, high] = [Math.min(...(domain as number[])), Math.max(...(domain as number[]))];
    if (value < low || value > high) return [`${text} at ${value} is off the axis from ${low} to ${high}`];
    // Lags have an axis of bins: its labels are checked below.
    const said = Number(text.replace(/,/g, "").replace("−", "-"));
    return Number.isNaN(said) || Math.abs(said - value) <= 1e-9 ? [] : [`${text} is written at ${value}`];
  });
}

/** What of a chart does not come from the findings. */
async function problemsOf(prefix: string, specification: Chart, findings: Findings): Promise<string[]> {
  const name = kindOf(prefix);
  const at = [...prefix.matchAll(/-(\d+)/g)].map((match) => Number(match[1]) - 1);
  try {
    const { words, left } = origins[name]!({ name, findings, clock, layers: layersOf(specification), at });
    return [...left, ...(await wrongWords(specification, words, textsIn(findings)))].map((one) => `${prefix}: ${one}`);
  } catch (error) {
    return [`${prefix}: ${String(error)}`];
  }
}

describe.each<[string, Findings, readonly string[]]>([
  ["a household", exampleFindings, ["firing", "near", "agreement", "lags", "drills", "tuning", "band", "margin", "change", "bays", "claims", "sensor-own", "sensor-twin", "typical-day"]],
  ["a fleet", exampleFleet, ["bays"]],
  ["a household with earlier months", examplePast, ["months", "month-clocks"]],
])("every chart of the report on %s", (_, findings, kinds) => {
  beforeAll(async () => {
    caught.clear();
    await drawAll(findings, clock);
  });

  it("is of a kind whose numbers are accounted for, and those looked for here are there", () => {
    const found = new Set([...caught.keys()].map(kindOf));
    for (const kind of kinds) expect(found).toContain(kind);
    for (const kind of found) expect(origins).toHaveProperty([kind]);
  });

  it("draws numbers of the findings and no others, and says no others", async () => {
    const wrong: string[] = [];
    for (const [prefix, specification] of caught) wrong.push(...(await problemsOf(prefix, specification, findings)));
    expect(wrong).toEqual([]);
  });
});

describe("the walk over the charts", () => {
  beforeAll(async () => {
    caught.clear();
    await drawAll(exampleFleet, clock);
    const bays = [...caught].filter(([prefix]) => kindOf(prefix) === "bays");
    caught.clear();
    await drawAll(examplePast, clock);
    for (const [prefix, specification] of bays) caught.set(prefix, specification);
  });

  it.each([
    ["agreement", "point", "value"],
    ["agreement", "rule", "high"],
    ["bays", "point", "count"],
    ["bays", "bar", "low"],
    ["bays", "tick", "expected"],
    ["lags", "rect", "x"],
    ["lags", "rect", "y2"],
    ["drills", "point", "count"],
    ["drills", "point", "x"],
    ["drills", "point", "size"],
    ["tuning", "point", "x"],
    ["tuning", "point", "y"],
    ["band", "rect", "count"],
    ["band", "rect", "x2"],
    ["band", "point", "x"],
    ["margin", "rect", "x2"],
    ["claims", "point", "x"],
    ["claims", "point", "y"],
    ["claims", "line", "y"],
    ["change", "point", "x"],
    ["change", "point", "y"],
    ["change", "rect", "y2"],
    ["firing", "line", "x"],
    ["firing", "line", "y"],
    ["firing", "rect", "x2"],
    ["near", "line", "x"],
    ["near", "rect", "x"],
    ["sensor-own", "line", "y"],
    ["sensor-twin", "line", "x"],
    ["sensor-own", "rect", "y2"],
    ["typical-day", "area", "y"],
    ["typical-day", "rect", "x2"],
    ["months", "point", "value"],
    ["months", "point", "y"],
    ["month-clocks", "point", "value"],
  ])("finds in %s a %s with another %s", async (kind, mark, field) => {
    const findings = kind === "bays" ? exampleFleet : examplePast;
    const [prefix, specification] = [...caught].find(([name]) => kindOf(name) === kind)!;
    expect(await problemsOf(prefix, specification, findings)).toEqual([]);
    const spoilt = structuredClone(specification);
    const row = layersOf(spoilt).filter((layer) => layer.mark === mark).flatMap(({ rows }) => rows).findLast((one) => typeof one[field] === "number") as Record<string, number> | undefined;
    row![field]! += 3;
    expect(await problemsOf(prefix, spoilt, findings)).not.toEqual([]);
  });

  it.each([
    ["claims", "limit 0.5", "limit 0.6"],
    ["months", "0.15", "0.16"],
  ])("finds in %s a word that says another number", async (kind, word, other) => {
    const [prefix, specification] = [...caught].find(([name]) => kindOf(name) === kind)!;
    const text = JSON.stringify(specification);
    expect(text).toContain(`"${word}"`);
    expect(await problemsOf(prefix, JSON.parse(text.replaceAll(`"${word}"`, `"${other}"`)) as Chart, examplePast)).toEqual([`${prefix}: ${other} stands nowhere`]);
  });

  it("finds a label of an axis that says another value than the one it stands at", async () => {
    const [prefix, specification] = [...caught].find(([name]) => kindOf(name) === "agreement")!;
    const rounded = JSON.parse(JSON.stringify(specification).replaceAll('"axis":{', '"axis":{"format":",d",')) as Chart;
    expect((await problemsOf(prefix, rounded, examplePast)).length).toBeGreaterThan(0);
  });
});

describe.each([
  ["two sites", smallFleet],
  ["twenty sites", wideFleet],
])("the chart of the fleet page on %s", (_, fleet) => {
  it("draws each bay's own numbers of fleet.json", async () => {
    caught.clear();
    await drawFleet(fleet);
    expect([...caught.keys()]).toEqual(["fleet-bays-w", "fleet-bays-n"]);
    const sorted = fleet.bays.toSorted((a, b) => a.faults.expected! - b.faults.expected!);
    for (const specification of caught.values()) {
      const layers = layersOf(specification);
      const { same, left } = account(layers);
      for (const row of layers.filter(({ placed }) => !placed).flatMap(({ rows }) => rows)) {
        const { faults } = sorted[Math.min(sorted.length - 1, Math.floor(numberOf(row, "place")))]!;
        same(row, "place", Math.round(numberOf(row, "place") * 2) / 2);
        same(row, "count", faults.count);
        same(row, "expected", faults.expected);
        same(row, "low", faults.controlLow);
        same(row, "high", faults.controlHigh);
        expect(row.out).toBe(faults.standsOut);
      }
      expect(left()).toEqual([]);
      expect(await wrongWords(specification, controlledBays(fleet.bays).map(({ label }) => label), textsIn(fleet))).toEqual([]);
    }
  });
});

/** `month-clocks` of `month-clocks-w`, `firing` of `firing-1-2-n`. */
function kindOf(prefix: string): string {
  return prefix.replace(/(?:-\d+)*-[wn]$/, "");
}
