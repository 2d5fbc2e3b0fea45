import { expect, it } from "vitest";
import { readEveryMs } from "../../../src/judge/rule/read-every.js";
import { accountsOf } from "../small-site.js";

const changes = (minutes: readonly number[]): string => ["0 off", ...minutes.map((at, i) => `${at} ${i % 2 === 0 ? "on" : "off"}`)].join(", ");
const readEvery = (minutes: readonly number[]): number => readEveryMs(accountsOf({ tag: changes(minutes) }).get("tag")) / 60_000;

it("changes on a grid of five minutes are told every five minutes", () => {
  expect(readEvery([5, 20, 45, 100, 110, 235, 300, 410, 555, 600, 640])).toBe(5);
});

it("changes that come as they come are told at once, and few changes say nothing", () => {
  expect(readEvery([5.1, 20.37, 45.02, 100.9, 110.4, 235.6, 300.2, 410.8, 555.3, 600.7, 640.1])).toBe(0);
  expect(readEvery([5, 20, 45])).toBe(0);
  expect(readEveryMs(undefined)).toBe(0);
});
