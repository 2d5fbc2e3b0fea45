import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { nearClockChange } from "../../src/simulate/local-calendar.js";
import { stretches } from "../../src/timeline/stretches.js";
import { OFF } from "../../src/timeline/timeline.js";
import { intersection } from "../../src/ground/intervals.js";

/** Paths of all files below a folder. */
const filesBelow = (folder: string): string[] => readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((path) => statSync(join(folder, path)).isFile());
const playOut = (name: string): ReturnType<typeof runScenario> => runScenario(parseScenario(readFileSync(`sample-data/${name}.scenario.yaml`, "utf8"), name));
const [household, yard] = [playOut("household"), playOut("yard")];

describe.each([["household", household], ["yard", yard]] as const)("sample-data/%s", (name, { files }) => {
  test("is what its scenario makes, to the byte, and nothing else", () => {
    const folder = join("sample-data", name);
    expect(filesBelow(folder).sort()).toEqual([".written.json", ...files.keys()].sort());
    for (const [path, text] of files) {
      const bytes = readFileSync(join(folder, path));
      // Compared unpacked: releases of the compressor may differ, what they carry may not.
      const same = (path.endsWith(".gz") ? gunzipSync(bytes) : bytes).toString("utf8") === text;
      expect({ path, same }).toEqual({ path, same: true });
    }
  });
});

test("the sample data stay small", () => {
  const bytes = filesBelow("sample-data").reduce((sum, path) => sum + statSync(join("sample-data", path)).size, 0);
  expect(bytes).toBeLessThan(4_000_000);
});

test("the household holds a walk with phones, a restart, a stuck contact, a late phone, a visitor and a clock change", () => {
  const { planted } = household;
  const signal = (name: string): NonNullable<ReturnType<typeof planted.signals.get>> => planted.signals.get(name)!;
  const away = ["mira", "tom"].map((person) => stretches(planted.truth.get(person)!, OFF));
  const out = ["bay-1", "bay-2"].flatMap((bay) => stretches(planted.truth.get(bay)!, OFF));
  const walks = intersection(away[0]!, away[1]!).filter((walk) => !out.some((drive) => drive.from < walk.to && walk.from < drive.to));
  expect(walks.length).toBeGreaterThan(3);
  expect(signal("phone-tom").restarts.map(({ cause }) => cause)).toEqual(["hub"]);
  expect(signal("yard-door-hinge").stuck.map(({ from, to }) => (to - from) / 86_400_000)).toEqual([2]);
  const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
  expect(median(signal("phone-tom").lagsOffMs)).toBeGreaterThan(2 * median(signal("phone-mira").lagsOffMs));
  expect(planted.strangers.map(({ bay }) => bay)).toEqual(["bay-2"]);
  expect(signal("bay-2-overhead").missedOn).toContainEqual(planted.strangers[0]!.stay);
  expect(nearClockChange("Europe/London", Date.parse("2026-10-25T00:30:00Z"), 3_600_000)).toBe(true);
  expect(planted.period.from < Date.parse("2026-10-25T00:30:00Z") && Date.parse("2026-10-25T00:30:00Z") < planted.period.to).toBe(true);
});

test("the yard holds one bad meter, one silent one, and far more locks wanted than a month needs", () => {
  const { planted } = yard;
  const faults = [...planted.signals.values()].filter(({ kind }) => kind === "distance").map(({ signal, missedOn, phantomsOn }) => ({ signal, count: missedOn.length + phantomsOn.length }));
  faults.sort((a, b) => b.count - a.count);
  expect(faults[0]!.signal).toBe("bay-4-wall");
  expect(faults[0]!.count).toBeGreaterThan(2 * faults[1]!.count);
  expect(planted.signals.get("bay-6-overhead")!.silences).toHaveLength(1);
  const empty = [...planted.truth.keys()].filter((subject) => subject !== "gate").map((subject) => stretches(planted.truth.get(subject)!, OFF)).reduce(intersection);
  expect(empty.length).toBeGreaterThanOrEqual(31);
});
