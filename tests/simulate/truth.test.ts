import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { instantOf } from "../../src/simulate/local-calendar.js";
import { movementsOf } from "../../src/simulate/movements.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { truthOf } from "../../src/simulate/truth.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../src/timeline/timeline.js";
import { yearScenarioText } from "./year-scenario.js";

function played(text: string): { movements: ReturnType<typeof movementsOf>; truth: ReturnType<typeof truthOf>; from: number; to: number } {
  const scenario = parseScenario(text, "s.yaml");
  const from = instantOf(scenario.timezone, scenario.period.from);
  const to = instantOf(scenario.timezone, scenario.period.to);
  const movements = movementsOf(scenario, from, to);
  return { movements, truth: truthOf(scenario, movements, from, to), from, to };
}
const changes = (timeline: Timeline): number[] => [...timeline.times.slice(1)];

const texts = {
  "a year": yearScenarioText(),
  "the household sample": readFileSync("sample-data/household.scenario.yaml", "utf8"),
  "the yard sample": readFileSync("sample-data/yard.scenario.yaml", "utf8"),
};

test.each(Object.entries(texts))("%s: truth is never unknown, and vehicles enter and leave only through an open door", (_name, text) => {
  const { truth, movements } = played(text);
  const bays = new Set(movements.map(({ bay }) => bay).filter((bay) => bay !== null));
  const door = truth.subjects.get(movements.find(({ bay }) => bay !== null)!.through!)!;
  let passages = 0;
  for (const timeline of truth.subjects.values()) expect([...timeline.states]).not.toContain(UNKNOWN);
  for (const bay of bays) {
    const instants = changes(truth.subjects.get(bay)!);
    passages += instants.length;
    expect(instants.every((at) => stateAt(door, at) === ON && stateAt(door, at - 3_000) === ON && stateAt(door, at + 3_000) === ON)).toBe(true);
  }
  expect(passages).toBeGreaterThan(100);
});

test.each(Object.entries(texts))("%s: who drives is here before the vehicle stands, and away only after it has left", (_name, text) => {
  const { truth, movements, from, to } = played(text);
  const drives = movements.filter(({ bay, who, kind, first, second }) => kind === "trip" && bay !== null && who.length > 0 && first > from + 600_000 && second < to - 600_000);
  expect(drives.length).toBeGreaterThan(20);
  for (const { bay, who, first, second } of drives) {
    const stood = truth.subjects.get(bay!)!;
    expect([stateAt(stood, first - 1), stateAt(stood, first), stateAt(stood, second - 1), stateAt(stood, second)]).toEqual([ON, OFF, OFF, ON]);
    for (const person of who) {
      const present = truth.subjects.get(person)!;
      expect([stateAt(present, first), stateAt(present, first + 200_000), stateAt(present, second - 200_000), stateAt(present, second - 1)]).toEqual([ON, OFF, OFF, ON]);
    }
  }
});

test("a walk leaves no trace at any bay or door", () => {
  const { truth, movements } = played(yearScenarioText());
  const walks = movements.filter(({ name, first }) => name === "evening walk" && first > movements[5]!.first);
  const traces = [...changes(truth.subjects.get("bay-1")!), ...changes(truth.subjects.get("barn-door")!)];
  expect(walks.length).toBeGreaterThan(300);
  expect(walks.filter(({ first, second }) => traces.some((at) => at > first && at < second))).toEqual([]);
});

test("a door held open at home is open, and nobody comes or goes", () => {
  const text = yearScenarioText({ "causes:\n": 'events:\n  - { name: airing, on: 2026-02-02, through: barn-door, opens: "22:00", for: 30min }\ncauses:\n' });
  const { truth } = played(text);
  const from = instantOf("Europe/Berlin", "2026-02-02", "22:00");
  const door = truth.subjects.get("barn-door")!;
  expect([stateAt(door, from - 1), stateAt(door, from), stateAt(door, from + 30 * 60_000 - 1), stateAt(door, from + 30 * 60_000)]).toEqual([OFF, ON, ON, OFF]);
  expect(changes(truth.subjects.get("ada")!).filter((at) => at >= from && at < from + 30 * 60_000)).toEqual([]);
});
