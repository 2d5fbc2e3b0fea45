import { describe, expect, test } from "vitest";
import type { ClockFault } from "../../../src/truth/clocks/faults.js";
import { clockFaults } from "../../../src/truth/clocks/faults.js";
import { clockOffsets } from "../../../src/truth/clocks/offsets.js";
import type { RuleSpec, Site, Source } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { accountOf, accountsOf, MINUTE, signal, siteWith, subject } from "../episodes/small-site.js";

const DAY = 1440 * MINUTE;
const source = (id: string): Source => ({ id, files: [], timeColumn: "t", written: "iso", zone: "UTC", skippedHour: "set-aside", delimiter: ",", decimal: ".", encoding: null, layout: { form: "long", signalColumn: "s", valueColumn: "v", latitudeColumn: null, longitudeColumn: null }, missing: [], lost: [], clockCorrectionMs: 0 });
const is = (ref: string): RuleSpec["when"] => ({ op: "is", ref, state: 1, heldMs: null, recentlyMs: null });
const ruleOn = (name: string, when: string, right: string): RuleSpec => ({ name, act: "lock", when: is(when), rightWhen: is(right), rightWhenIsDefault: false, restMs: 0, line: null });
const sorts = ["meter", "mat", "loop"];
const site: Site = {
  ...siteWith(
    [subject("bay-1", "bay"), subject("bay-2", "bay"), subject("ada", "person")],
    [...[1, 2].flatMap((bay) => sorts.map((sort) => ({ ...signal(`${sort}-${bay}`, `bay-${bay}`), source: `${sort}s` }))), { ...signal("phone", "ada"), source: "phones" }],
  ),
  sources: [...sorts.map((sort) => `${sort}s`), "phones"].map(source),
  rules: [ruleOn("of the bays", "mat-1", "bay-1"), ruleOn("of the phone", "phone", "ada")],
};
const period = { from: 0, to: 30 * DAY };
const wobble = (day: number, bay: number): number => ((day * 7 + bay * 3) % 5) * 1000 - 2000;

/** The faults of a month. `of` chooses the sorts of sensor; each gets its seconds of delay from the function of the day. */
function faultsOf(late: Readonly<Record<string, (day: number) => number>>, of = sorts): ClockFault[] {
  const visits = (sort: string, bay: number) =>
    timelineOf(0, period.to, [[0, 0], ...Array.from({ length: 29 }, (_, day) => day).flatMap((day) =>
      ([[8, 1], [12, 0], [15, 1], [18, 0]] as const).map(([hour, to]) => [day * DAY + hour * 60 * MINUTE + (late[sort]?.(day) ?? 0) * 1000 + wobble(day, bay), to] as const))]);
  const there = { ...site, sources: site.sources.filter(({ id }) => id === "phones" || of.includes(id.slice(0, -1))), signals: site.signals.filter(({ id }) => id === "phone" || of.includes(id.slice(0, -2))) };
  const accounts = accountsOf(accountOf("phone", visits("phone", 0)), ...of.flatMap((sort) => [1, 2].map((bay) => accountOf(`${sort}-${bay}`, visits(sort, bay)))));
  return clockFaults(there, clockOffsets(there, accounts, period), period);
}

describe("the clocks that are wrong", () => {
  test("are none where all agree, or differ by what sensors are late", () => {
    expect(faultsOf({})).toEqual([]);
    expect(faultsOf({ mat: () => 3 })).toEqual([]);
  });

  test("a clock that drifts is named by the two that keep together, with what it makes up a day", () => {
    const [fault, ...more] = faultsOf({ mat: (day) => -10 * day });
    expect(more).toEqual([]);
    expect(fault).toMatchObject({ target: "mats", text: "Have the clock of mats set by the network: it drifts, and no “clock_correction” mends that.", rules: ["of the bays"], blocked: [] });
    expect(fault?.why).toMatch(/^The stamps of mats come 10 s earlier every day against (meters and loops|loops and meters), from \d+ changes that both saw\.$/);
    // It may have made up five minutes by the end, and what `join` allows besides.
    expect(fault?.reachMs).toBeGreaterThan(14 * MINUTE);
  });

  test("of two sources that drift apart nobody can tell which it is", () => {
    expect(faultsOf({ mat: (day) => 10 * day }, ["meter", "mat"])).toMatchObject([{ target: "meters, mats", text: "Find out which clock drifts, that of meters or that of mats, and have it set by the network." }]);
  });

  test("a drift that makes up less than half a minute in a month is none", () => {
    expect(faultsOf({ mat: (day) => -0.5 * day })).toEqual([]);
  });

  test("an hour off is one fault, though two sources show it, and no rule on it can be judged", () => {
    const [fault, ...more] = faultsOf({ mat: () => 3600 });
    expect(more).toEqual([]);
    expect(fault).toMatchObject({ target: "mats", rules: ["of the bays"], blocked: ["of the bays"] });
    expect(fault?.text).toContain("Write under the source mats: “clock_correction: -3600s”");
    expect(fault?.why).toMatch(/^The stamps of mats are (1 h|59 min 5\d s|1 h \d s) later than those of (meters and loops|loops and meters)/);
  });

  test("a clock that is minutes off spoils no verdict, and is told with its correction", () => {
    expect(faultsOf({ mat: () => 240 })).toMatchObject([{ target: "mats", blocked: [], rules: ["of the bays"] }]);
  });
});
