import { describe, expect, test } from "vitest";
import { blockingClocksOf } from "../../../src/truth/clocks/blocking.js";
import { clockOffsets } from "../../../src/truth/clocks/offsets.js";
import type { RuleSpec, Site, Source } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { accountOf, accountsOf, MINUTE, signal, siteWith, subject } from "../episodes/small-site.js";
import { monthText, readMonth } from "./month.js";

/** The month at Ferry Lane with the mat's stamps written in local time and read in `zone`, with another seed, or with other words changed. */
async function blocksOf({ zone = "UTC", seed = 5, change = (text: string): string => text }): Promise<ReturnType<typeof blockingClocksOf>> {
  const local = monthText(`site: { time: { column: t, written: "yyyy-MM-dd HH:mm:ss", zone: ${zone} } }`).replace("mat.csv, time: { column: t, written: epoch-s }", 'mat.csv, time: { column: t, written: "yyyy-MM-dd HH:mm:ss" }');
  const { site, accounts, period } = await readMonth(change(local.replace("seed: 5", `seed: ${seed}`)));
  return blockingClocksOf(site, site.rules[0]!, clockOffsets(site, accounts, period), period);
}

describe("a source written in one zone and read in another", () => {
  test.each([
    ["Europe/London", -1],
    ["Asia/Karachi", -5],
    ["America/Bogota", 5],
    ["Asia/Kathmandu", -5.75],
  ])("read in %s, it is found and measured to a minute", async (zone, hours) => {
    const [block, ...more] = await blocksOf({ zone });
    expect(more).toEqual([]);
    expect(block!.sources).toEqual(["meter-log", "mat-log"]);
    expect(Math.abs(block!.seconds - hours * 3600)).toBeLessThanOrEqual(60);
    expect(block!.text).toContain(`Write under the source mat-log: “time: { zone: UTC }” (now ${zone})`);
  });

  test("stands in nobody's way once its zone is right: ten months", async () => {
    for (let seed = 1; seed <= 10; seed += 1) expect(await blocksOf({ seed })).toEqual([]);
  }, 60_000);

  test("a clock seventeen minutes behind is at no half hour, and found all the same", async () => {
    const [block] = await blocksOf({ change: (text) => text.replace("signal: id, value: v, site:", "signal: id, value: v, behind: 17min, site:") });
    expect(Math.abs(block!.seconds + 17 * 60)).toBeLessThanOrEqual(60);
    expect(block!.text).toMatch(/“clock_correction: 10[12]\ds”/);
  });
});

const DAY = 1440 * MINUTE;
const source = (id: string, more: Partial<Source> = {}): Source => ({ id, files: [], timeColumn: "t", written: "epoch-s", zone: "UTC", skippedHour: "set-aside", delimiter: ",", decimal: ".", encoding: null, layout: { form: "long", signalColumn: "s", valueColumn: "v", latitudeColumn: null, longitudeColumn: null }, missing: [], lost: [], clockCorrectionMs: 0, ...more });
const site: Site = {
  ...siteWith([subject("bay-1", "bay")], [{ ...signal("meter", "bay-1"), source: "a" }, { ...signal("mat", "bay-1"), source: "b" }, { ...signal("loop", "bay-1"), source: "c" }]),
  sources: [source("a"), source("b"), source("c")],
};
const period = { from: 0, to: 30 * DAY };
const wobble = (day: number): number => ((day * 7) % 5) * 1000 - 2000;

/** Thirty days of two visits; `late` tells by how much each turn is late, milliseconds. */
function visits(late: (day: number, to: 0 | 1) => number) {
  const steps = Array.from({ length: 30 }, (_, day) => day).flatMap((day) =>
    ([[8, 1], [12, 0], [15, 1], [18, 0]] as const).map(([hour, to]) => [day * DAY + hour * 60 * MINUTE + late(day, to) + wobble(day), to] as const),
  );
  return timelineOf(0, 30 * DAY, [[0, 0], ...steps]);
}

const isOn = (ref: string): RuleSpec["when"] => ({ op: "is", ref, state: 1, heldMs: null, recentlyMs: null });
/** A rule on the meter and the mat. What makes it right has no signal here. */
const onBoth: RuleSpec = { name: "close", act: "lock", when: { op: "all", of: [isOn("meter"), isOn("mat")] }, rightWhen: isOn("bay-2"), rightWhenIsDefault: false, restMs: 0, line: null };

function blocks(mat: (day: number, to: 0 | 1) => number, loop = (): number => 0): ReturnType<typeof blockingClocksOf> {
  const accounts = accountsOf(accountOf("meter", visits(() => 0)), accountOf("mat", visits(mat)), accountOf("loop", visits(loop)));
  return blockingClocksOf(site, onBoth, clockOffsets(site, accounts, period), period);
}

describe("clocks that stand in the way of a rule", () => {
  test("says what was measured and the line that mends it", () => {
    expect(blocks(() => 40 * MINUTE)).toEqual([{
      sources: ["a", "b"],
      seconds: 2400,
      text: "The time stamps of b are 40 min later than those of a for the same changes (between 40 min and 40 min, from 120 changes that both saw). Changes more than 10 min apart (“join”) do not count as the same, so neither can confirm or contradict the other. Write under the source b: “clock_correction: -2400s”.",
    }]);
  });

  test("names both ways out where either clock may be the wrong one", () => {
    const text = blocks(() => 40 * MINUTE, () => 80 * MINUTE)[0]!.text;
    expect(text).toContain("Write under the source b: “clock_correction: -2400s”. Or, if the clock of a is the wrong one: Write under the source a: “clock_correction: 2400s”.");
  });

  test("a phone that is late only on arriving is no clock", () => {
    expect(blocks((_, to) => (to === 1 ? 25 * MINUTE : 0))).toEqual([]);
  });

  test("nor is one that leaves at random", () => {
    expect(blocks((day, to) => (to === 1 ? 25 * MINUTE : (((day * 7919) % 61) - 30) * MINUTE))).toEqual([]);
  });

  test("nor is an offset of which one direction may lie within `join`, however many pairs stand behind it", () => {
    const accounts = accountsOf(accountOf("meter", visits(() => 0)), accountOf("mat", visits(() => 40 * MINUTE)), accountOf("loop", visits(() => 0)));
    const offsets = clockOffsets(site, accounts, period).map((one) => ({ ...one, whenOff: { ...one.whenOff, low: 599 } }));
    expect(blockingClocksOf(site, onBoth, offsets, period)).toEqual([]);
  });

  test("a drift that stays within `join` blocks nothing", () => {
    expect(blocks((day) => day * 15_000)).toEqual([]);
  });

  test("sources that neither make up the rule nor could confirm it do not matter", () => {
    const accounts = accountsOf(accountOf("meter", visits(() => 0)), accountOf("mat", visits(() => 40 * MINUTE)), accountOf("loop", visits(() => 0)));
    const offsets = clockOffsets(site, accounts, period);
    const found = (when: RuleSpec["when"], rightWhen: RuleSpec["rightWhen"]) => blockingClocksOf(site, { ...onBoth, when, rightWhen }, offsets, period).map(({ sources }) => sources);
    expect(found(isOn("meter"), isOn("bay-2"))).toEqual([]);
    // All three watch the first bay.
    expect(found(isOn("meter"), isOn("bay-1"))).toEqual([["a", "b"], ["b", "c"]]);
  });

  test("a door that moves all day is found an hour out, although every alignment pairs something", () => {
    const movements = Array.from({ length: 30 * 80 }, (_, i) => i * 18 * MINUTE + ((i * 7919) % 840) * 1000 + MINUTE);
    const often = (lateMs: number) => timelineOf(0, 30 * DAY, [[0, 0], ...movements.flatMap((at) => [[at + lateMs, 1], [at + lateMs + 2 * MINUTE, 0]] as const).filter(([at]) => at < 30 * DAY)]);
    const accounts = accountsOf(accountOf("meter", often(0)), accountOf("mat", often(60 * MINUTE)), accountOf("loop", visits(() => 0)));
    expect(blockingClocksOf(site, onBoth, clockOffsets(site, accounts, period), period)).toMatchObject([{ seconds: 3600 }]);
  });
});
