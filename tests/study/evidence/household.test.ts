import { expect, test } from "vitest";
import { auditWorld } from "../verdict/audit-world.js";
import { rightTimes } from "../verdict/evaluate.js";
import { monthSpan } from "../verdict/limits.js";
import { chanceNamed } from "../verdict/random.js";
import { MINUTE, type Rule, type World } from "../verdict/world.js";
import { driveInRule, driveInWorld, LOCK_RULE } from "./household.js";

const faults = { times: "even", turnsAgain: 0.1, visitors: 20, overseen: 0.01, asleep: false } as const;
const month = (rule: Rule): World => driveInWorld(chanceNamed("household test"), monthSpan(0), faults, rule);
const failed = async (rule: Rule): Promise<string[]> => {
  const { road } = await auditWorld(month(rule), { wrongPerYear: 1, missedShare: 0.5, withinMs: 2 * MINUTE });
  return road.design!.conditions.flatMap(({ code, holds }) => (holds ? [] : [code]));
};

test("the road is open where what makes it right lasts long enough, and closed where it does not or there are no two parts", async () => {
  expect(await failed(driveInRule(15))).toEqual([]);
  // Too short a right_when is also a gap: a phone that tells as late as it usually does is then enough.
  expect(await failed(driveInRule(5))).toEqual(["cover", "gap"]);
  expect(await failed(LOCK_RULE)).toEqual(["parts"]);
}, 60_000);

test("it is right only while a vehicle and a person have both just come", () => {
  const world = month(driveInRule(15));
  const came = (kind: string): number[] => world.subjects.filter((one) => one.class === kind).flatMap(({ on }) => on.map(({ from }) => from)).filter((from) => from > world.from);
  const [vehicles, people] = [came("bay"), came("person")];
  const right = rightTimes(world, world.rule);
  expect(right.length).toBeGreaterThan(20);
  const just = (list: readonly number[], at: number): boolean => list.some((from) => from <= at && at - from <= 15 * MINUTE);
  for (const { from, to } of right) expect(just(vehicles, from) && just(people, from) && just(vehicles, to - 1) && just(people, to - 1)).toBe(true);
  // Walks and visitors' vehicles: each alone makes nothing right.
  expect(people.filter((at) => !just(vehicles, at + MINUTE)).length).toBeGreaterThan(0);
  expect(vehicles.filter((at) => !just(people, at + MINUTE)).length).toBeGreaterThan(0);
});
