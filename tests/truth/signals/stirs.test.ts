import { describe, expect, it } from "vitest";
import { parseSite } from "../../../src/site/parse.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { OFF, ON, UNKNOWN } from "../../../src/timeline/timeline.js";
import { signalAccounts } from "../../../src/truth/signals/accounts.js";
import { lyingSets } from "../../../src/judge/fooled/lying-sets.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import { MINUTE, readingsMap } from "./small-site.js";

const site = parseSite(
  `site: A home
timezone: UTC
sources: { log: { files: log.csv, time: { column: time, written: iso }, signal: what, value: says, lost: gone } }
doors: { front: {} }
people: { ida: {} }
signals:
  hall: { on: ida, source: log, channel: hall, kind: stir, stirs: moved, still: quiet }
  tap: { on: ida, source: log, channel: tap, kind: stir, stirs: used }
  phone: { on: ida, source: log, channel: phone, kind: phone, here: near, away: far }
  contact: { on: front, source: log, channel: front, kind: contact, open: open, closed: shut }
rules:
  - { name: stirs and phone, act: lock, when: { all: [ { every: stirs, is: still, held: 10min }, { signal: phone, is: away } ] } }
  - { name: stirs alone, act: unlock, when: { some: stirs, turned: stirring, within: 1min } }
  - { name: stir and door, act: unlock, when: { all: [ { signal: hall, is: still }, { signal: contact, is: open } ] } }
`,
  "site.yaml",
  "/",
);
const inMs = (rows: readonly (readonly [number, number])[]): [number, number][] => rows.map(([at, value]) => [at * MINUTE, value]);
const period = { from: 0, to: 60 * MINUTE };

describe("what a stir signal says", () => {
  const accounts = signalAccounts(site, readingsMap({ hall: inMs([[1, 1], [3, 0], [40, NaN], [45, 0]]), tap: inMs([[10, 1], [10.5, 1], [20, 1]]) }), period);
  const line = (steps: readonly (readonly [number, 0 | 1 | 2])[]) => timelineOf(0, 60 * MINUTE, steps.map(([at, state]) => [at * MINUTE, state]));

  it("is here while it stirs, and nothing otherwise", () => {
    expect(accounts.get("hall")!.account).toEqual(line([[0, UNKNOWN], [1, ON], [3, UNKNOWN]]));
  });

  it("to a rule is stirring or still, and neither while it is dark", () => {
    expect(accounts.get("hall")!.live).toEqual(line([[0, UNKNOWN], [1, ON], [3, OFF], [40, UNKNOWN], [45, OFF]]));
  });

  it("without a word for still is over after a minute, counted from the last time it was said", () => {
    expect(accounts.get("tap")!.stirring).toEqual(line([[0, UNKNOWN], [10, ON], [11.5, OFF], [20, ON], [21, OFF]]));
  });
});

describe("a stir signal whose word for still was lost", () => {
  const HOUR = 60;
  /** Two minutes of stirring every half hour up to 16:00 of the first day; then "on" is said, and next hours later, again "on". */
  const day = Array.from({ length: 32 }, (_, i) => [[30 * i, 1], [30 * i + 2, 0]] as const).flat();
  const long = { from: 0, to: 48 * HOUR * MINUTE };
  const stirringOf = (rows: readonly (readonly [number, number])[]) => signalAccounts(site, readingsMap({ hall: inMs(rows) }), long).get("hall")!;

  it("stirred for its usual length only: it says “on” again hours later, which it does but anew", () => {
    const { stirring, live } = stirringOf([...day, [16 * HOUR, 1], [25 * HOUR, 1], [25 * HOUR + 2, 0]]);
    expect(stirring).toEqual(timelineOf(0, long.to, [...day, [16 * HOUR, 1], [16 * HOUR + 2, 0], [25 * HOUR, 1], [25 * HOUR + 2, 0]].map(([at, state]) => [at * MINUTE, state as 0 | 1])));
    // A rule of the time saw it stirring all the while.
    expect(live).toEqual(timelineOf(0, long.to, [...day, [16 * HOUR, 1], [25 * HOUR + 2, 0]].map(([at, state]) => [at * MINUTE, state as 0 | 1])));
  });

  it("is believed where “off” came in the end, or where it repeats itself anyway", () => {
    const ended = [...day, [16 * HOUR, 1], [25 * HOUR, 0]] as const;
    const repeating = [...day, ...Array.from({ length: 10 }, (_, i) => [(16 + i) * HOUR, 1] as const), [26 * HOUR, 0]] as const;
    expect(stirringOf(ended).stirring).toEqual(timelineOf(0, long.to, ended.map(([at, state]) => [at * MINUTE, state])));
    expect(stirringOf(repeating).stirring).toEqual(timelineOf(0, long.to, [...day, [16 * HOUR, 1], [26 * HOUR, 0]].map(([at, state]) => [at * MINUTE, state as 0 | 1])));
  });
});

describe("what must lie for a rule that listens to stirs", () => {
  const setsOf = (rule: number): string[][] => lyingSets(prepareRule(site, site.rules[rule]!)).sets.map((set) => set.map(({ name }) => name));

  it("is all but the stirs: those may be still at any time", () => {
    expect(setsOf(0)).toEqual([["phone"]]);
    expect(setsOf(2)).toEqual([["contact"]]);
  });

  it("is a stir where the rule asks for nothing else", () => {
    expect(setsOf(1)).toEqual([["hall"], ["tap"]]);
  });
});
