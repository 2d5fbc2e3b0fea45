import { expect, test } from "vitest";
import { InputError } from "../../src/ground/problem.js";
import { instantOf } from "../../src/simulate/local-calendar.js";
import { movementsOf } from "../../src/simulate/movements.js";
import { parseScenario } from "../../src/simulate/scenario.js";

const ZONE = "Europe/Berlin";
/** The least time between two moves of one vehicle or person. */
const FOUR_MINUTES_MS = 4 * 60_000;
const MONDAY = instantOf(ZONE, "2026-05-04");
const DAY = 86_400_000;

function scenarioWith(routine: string, events = "", atStart = "here"): ReturnType<typeof parseScenario> {
  return parseScenario(
    `
scenario: Test
seed: 1
timezone: ${ZONE}
period: { from: 2026-05-04, to: 2026-05-18 }
people: { ada: { at_start: ${atStart} }, bob: {} }
bays: { bay-1: {} }
doors: { door: {} }
sources: {}
sensors: {}
routine: [${routine}]
events: [${events}]
`,
    "test.yaml",
  );
}
const play = (scenario: ReturnType<typeof parseScenario>): ReturnType<typeof movementsOf> => movementsOf(scenario, MONDAY, MONDAY + 14 * DAY);

test("a routine happens on its days, at about its time, for about its length", () => {
  const trips = play(scenarioWith('{ name: work, who: [ada], days: weekdays, leaves: "08:00", away: 9h, jitter: 10min, length_jitter: 30min }'));
  expect(trips).toHaveLength(10);
  for (const { first, second } of trips) {
    const hour = ((first - MONDAY) % DAY) / 3_600_000;
    expect(Math.abs(hour - 8) * 60).toBeLessThanOrEqual(15);
    expect(Math.abs((second - first) / 60_000 - 9 * 60)).toBeLessThanOrEqual(45);
    expect(first % 1000).toBe(0);
  }
  expect(new Set(trips.map(({ first }) => first % DAY)).size).toBeGreaterThan(5);
});

test("an event takes its place and the routine gives way", () => {
  const routine = '{ name: work, who: [ada], days: weekdays, leaves: "08:00", away: 9h }';
  const names = play(scenarioWith(routine, '{ name: day out, on: 2026-05-05, who: [ada, bob], leaves: "07:00", away: 4h }')).map(({ name }) => name);
  expect(names.filter((name) => name === "work")).toHaveLength(9);
  expect(names[1]).toBe("day out");
});

test("what one does within a stay fits into it, and a vehicle may stand in a bay whose own is out", () => {
  const movements = play(
    scenarioWith(
      '{ name: shift, who: [ada], days: weekdays, arrives: "06:00", stays: 10h }, { name: round, who: [ada], bay: bay-1, through: door, days: [mon], leaves: "09:00", away: 3h }',
      '{ name: visitor, on: 2026-05-04, bay: bay-1, through: door, arrives: "10:00", stays: 1h, reads: {} }',
      "away",
    ),
  );
  expect(movements.slice(0, 3).map(({ name }) => name)).toEqual(["shift", "round", "visitor"]);
});

test("nobody moves twice within four minutes, whatever the jitter", () => {
  const walks = ["08:00", "08:10", "08:20", "08:30"].map((time, i) => `{ name: walk-${i}, who: [ada], days: daily, leaves: "${time}", away: 6min, jitter: 20min, length_jitter: 6min }`).join(", ");
  const moves = play(scenarioWith(walks)).flatMap(({ first, second }) => [first, second]);
  expect(moves.length).toBeGreaterThan(40);
  expect(moves.every((at, i) => i === 0 || at - moves[i - 1]! >= FOUR_MINUTES_MS)).toBe(true);
});

test("adding an entry leaves the jitter of the others alone", () => {
  const work = '{ name: work, who: [ada], days: weekdays, leaves: "08:00", away: 9h, jitter: 10min }';
  const alone = play(scenarioWith(work));
  const together = play(scenarioWith(`{ name: paper, who: [bob], days: daily, leaves: "07:30", away: 20min, jitter: 10min }, ${work}`));
  expect(together.filter(({ name }) => name === "work")).toEqual(alone);
});

test("an event that contradicts another is refused, with what it is", () => {
  const both = '{ name: out, on: 2026-05-05, who: [ada], leaves: "09:00", away: 4h }, { name: out again, on: 2026-05-05, who: [ada], leaves: "10:00", away: 1h }';
  expect(() => play(scenarioWith("", both))).toThrow(InputError);
  expect(() => play(scenarioWith("", both))).toThrow('test.yaml: events.1: "out again" cannot happen then: a person or vehicle in it is already on the other side of the door');
});

test("a routine that never fits is refused: nobody arrives who never left", () => {
  expect(() => play(scenarioWith('{ name: shift, who: [ada], days: daily, arrives: "06:00", stays: 10h }'))).toThrow('test.yaml: routine.0: "shift" never happens: each time it is due');
});
