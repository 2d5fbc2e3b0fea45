import { describe, expect, test } from "vitest";
import { retellableAccounts } from "../../../src/truth/signals/accounts.js";
import { quietNotes } from "../../../src/truth/signals/quiet-notes.js";
import type { SignalSpec } from "../../../src/site/site.js";
import { turned } from "../../../src/timeline/turned.js";
import { HOUR, MINUTE, every, look, readingsMap, signal, siteOf } from "./small-site.js";

const DAY = 24 * HOUR;
type Row = readonly [number, number];

/** Out at 8 and back at 17 on every day, a minute later for each further sensor; nothing within `[from, to)`. */
function coming(days: number, lag: number, quiet: { from: number; to: number } | null = null): Row[] {
  const rows: Row[] = [[lag, 1]];
  for (let day = 0; day < days; day += 1) rows.push([day * DAY + 8 * HOUR + lag, 0], [day * DAY + 17 * HOUR + lag, 1]);
  return rows.filter(([at]) => quiet === null || at < quiet.from || at >= quiet.to);
}

function told(signals: readonly SignalSpec[], rows: Readonly<Record<string, readonly Row[]>>, days = 28) {
  return retellableAccounts(siteOf(signals), readingsMap(rows), { from: 0, to: days * DAY });
}

describe("when nothing is heard of a hub", () => {
  const hub = (id: string, parts: Partial<SignalSpec> = {}): SignalSpec => signal(id, { source: id, shares: ["hub"], ...parts });
  const down = { from: 10 * DAY + 12 * HOUR, to: 12 * DAY + 12 * HOUR };
  const rows = { a: coming(28, 0, down), b: coming(28, MINUTE, down), elsewhere: coming(28, 2 * MINUTE) };
  const { accounts, quiets } = told([hub("a"), hub("b"), signal("elsewhere")], rows);
  const first = 12 * DAY + 17 * HOUR;

  test("for far longer than ever while others go on, all of it is unknown from its last word to its next", () => {
    expect(quiets).toEqual([{ from: 10 * DAY + 8 * HOUR + MINUTE, to: first, what: { form: "cause", name: "hub" }, signals: ["a", "b"], usualMs: 15 * HOUR - MINUTE, noticedMs: 45 * HOUR - 3 * MINUTE }]);
    for (const id of ["a", "b"]) {
      expect(look(accounts.get(id)!.account, [10 * DAY + 8 * HOUR, 10 * DAY + 9 * HOUR, first - 1, first + HOUR])).toEqual([id === "a" ? 0 : 1, 2, 2, 1]);
      expect(accounts.get(id)!.silences).toHaveLength(1);
    }
    expect(accounts.get("elsewhere")!.account.states.slice(1)).not.toContain(2);
  });

  test("a rule at the time went on believing the last word until the quiet could be noticed", () => {
    expect(look(accounts.get("a")!.live, [10 * DAY + 9 * HOUR, 12 * DAY + HOUR, 12 * DAY + 6 * HOUR, first])).toEqual([0, 0, 2, 1]);
  });

  test("its return is no turn", () => {
    const { account } = accounts.get("a")!;
    expect(turned(account, 1, { bridgeMs: MINUTE, barriers: [] }).map(({ at }) => at)).not.toContain(first);
  });

  test("a sensor of it that says nothing on return stays unknown until it speaks, for nobody knows what it missed", () => {
    const rarely: Row[] = [[0, 1], [15 * DAY + 8 * HOUR, 0]];
    const { accounts: wider } = told([hub("a"), hub("b"), hub("rare"), signal("elsewhere")], { ...rows, rare: rarely });
    expect(look(wider.get("rare")!.account, [10 * DAY, 11 * DAY, 14 * DAY, 16 * DAY])).toEqual([1, 2, 2, 0]);
    // Rules believe the last word again.
    expect(look(wider.get("rare")!.live, [10 * DAY, 12 * DAY + 10 * HOUR, 14 * DAY, 16 * DAY])).toEqual([1, 2, 1, 0]);
  });

  test("a periodic sensor on it that goes on speaking shows that it is not down", () => {
    const { quiets: none } = told([hub("a"), hub("b"), hub("meter", { expectMs: 30 * MINUTE }), signal("elsewhere")], { ...rows, meter: every(30 * MINUTE, 0, 28 * DAY, 1) });
    expect(none).toEqual([]);
  });

  test("nights after meters ended for good are no outages of all, though it was never so quiet while they spoke", () => {
    const meter = (id: string): SignalSpec => signal(id, { source: "meters", expectMs: 30 * MINUTE });
    const meters = { m: every(30 * MINUTE, 0, 26.5 * DAY, 1), n: every(30 * MINUTE, MINUTE, 26.5 * DAY, 1) };
    const doors = { a: coming(28, 0), b: coming(28, MINUTE) };
    const { quiets: found } = told([meter("m"), meter("n"), signal("a"), signal("b")], { ...meters, ...doors });
    // What began together may be one outage; the nights after are none.
    expect(found.map(({ what, from, to }) => [what.form, Math.floor(from / DAY), to])).toEqual([["site", 26, 26 * DAY + 17 * HOUR], ["source", 26, Infinity]]);
  });

  test("two that fall silent with it show it within hours", () => {
    const night = { from: 10 * DAY + 20 * HOUR, to: 11 * DAY + 2 * HOUR };
    const beat = every(10 * MINUTE, 0, 28 * DAY, 1).filter(([at]) => at < night.from || at >= night.to);
    const { accounts: beaten } = told([hub("a"), hub("m", { expectMs: 10 * MINUTE }), hub("n", { expectMs: 10 * MINUTE })], { a: coming(28, 0), m: beat, n: beat });
    expect(look(beaten.get("a")!.account, [night.from - 20 * MINUTE, night.from + HOUR, night.to - 1])).toEqual([1, 2, 2]);
  });
});

describe("when everything falls quiet for three days", () => {
  const down = { from: 10 * DAY + 12 * HOUR, to: 13 * DAY + 12 * HOUR };
  const phones = [signal("a", { source: "one" }), signal("b", { source: "two" })];
  const { accounts, quiets } = told(phones, { a: coming(28, 0, down), b: coming(28, MINUTE, down) });

  test("all of it is unknown, and told once", () => {
    expect(quiets.map(({ what }) => what)).toEqual([{ form: "site" }]);
    for (const { account } of accounts.values()) expect(look(account, [9 * DAY, 11 * DAY, 13 * DAY, 14 * DAY])).toEqual([1, 2, 2, 1]);
    expect(quietNotes(quiets, "UTC")).toEqual([
      "Nothing at all was heard from 1970-01-11 08:01 +00:00 to 1970-01-14 17:00 +00:00 (3.4 days), though otherwise it was never quiet for longer than 15 h. Was it down? What happened then went unseen, and a, b are unknown for that time. If nobody was there, say so in the diary.",
    ]);
  });

  test("a night away is no outage", () => {
    const away = { from: 10 * DAY + 12 * HOUR, to: 11 * DAY + 12 * HOUR };
    expect(told(phones, { a: coming(28, 0, away), b: coming(28, MINUTE, away) }).quiets).toEqual([]);
  });

  test("it is told of the audited period alone, but measured by the whole history", () => {
    const rows = readingsMap({ a: coming(28, 0, down), b: coming(28, MINUTE, down) });
    expect(retellableAccounts(siteOf(phones), rows, { from: 20 * DAY, to: 28 * DAY }).quiets).toEqual([]);
    expect(retellableAccounts(siteOf(phones), rows, { from: 9 * DAY, to: 15 * DAY }).quiets).toHaveLength(1);
  });
});

test("a hub that is never heard again is unknown from its last word on", () => {
  const hub = (id: string) => signal(id, { shares: ["hub"], source: id });
  const gone = { from: 15 * DAY, to: Infinity };
  const { accounts, quiets } = told([hub("a"), hub("b"), signal("elsewhere")], { a: coming(28, 0, gone), b: coming(28, MINUTE, gone), elsewhere: coming(28, 0) });
  expect(look(accounts.get("a")!.account, [14 * DAY, 15 * DAY, 27 * DAY])).toEqual([1, 2, 2]);
  expect(quietNotes(quiets, "UTC")[0]).toMatch(/^Nothing that depends on hub was heard after 1970-01-15 17:01 \+00:00, though/);
});
