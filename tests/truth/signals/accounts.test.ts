import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { signalAccounts } from "../../../src/truth/signals/accounts.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import type { Site } from "../../../src/site/site.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { turned } from "../../../src/timeline/turned.js";
import type { Turn } from "../../../src/timeline/timeline.js";
import { HOUR, MINUTE, SECOND, every, feet, look, meter, readingsMap, signal, siteOf, steps } from "./small-site.js";

const EXPECT = 3 * MINUTE;
const DAY = 24 * HOUR;
type Rows = Parameters<typeof readingsMap>[0];

function accounts(site: Site, rows: Rows, from = 0, to = DAY): ReadonlyMap<string, SignalAccount> {
  return signalAccounts(site, readingsMap(rows), { from, to });
}

function only(site: Site, rows: Rows, from = 0, to = DAY): SignalAccount {
  return [...accounts(site, rows, from, to).values()][0]!;
}

/** Every turn that a rule could see, over any gap however long. */
function turns({ account, live, restarts }: SignalAccount): Turn[] {
  return [account, live].flatMap((one) => ([0, 1] as const).flatMap((to) => turned(one, to, { bridgeMs: DAY, barriers: restarts })));
}

describe("a signal's account", () => {
  test("is unknown before the first reading, then follows the readings", () => {
    const rail = only(siteOf([signal("rail")]), { rail: [[HOUR, 1], [2 * HOUR, 0]] });
    expect(steps(rail.account)).toEqual([[0, 2], [HOUR, 1], [2 * HOUR, 0]]);
    expect(rail.live).toEqual(rail.account);
  });

  test("begins with what the readings before the period said", () => {
    const rail = only(siteOf([signal("rail")]), { rail: [[HOUR, 1], [5 * HOUR, 0]] }, 2 * HOUR);
    expect(steps(rail.account)).toEqual([[2 * HOUR, 1], [5 * HOUR, 0]]);
    expect(rail.readingCount).toBe(1);
  });

  test("is unknown throughout without readings, and says that there were none", () => {
    for (const rows of [{ rail: [] }, {}]) {
      const rail = only(siteOf([signal("rail")]), rows);
      expect(steps(rail.account)).toEqual([[0, 2]]);
      expect(rail).toMatchObject({ readingCount: 0, flapCount: 0, silences: [], restarts: [] });
    }
  });

  test("is unknown from a lost word to the next reading", () => {
    expect(steps(only(siteOf([signal("rail")]), { rail: [[0, 1], [HOUR, NaN], [2 * HOUR, 1]] }).account)).toEqual([[0, 1], [HOUR, 2], [2 * HOUR, 1]]);
  });

  test("counts its flaps", () => {
    expect(only(siteOf([signal("rail")]), { rail: [[0, 0], [HOUR, 1], [HOUR + SECOND, 0]] }).flapCount).toBe(1);
  });

  test("keeps the order of the site file", () => {
    expect([...accounts(siteOf([signal("rail"), signal("arm"), signal("lid")]), {}).keys()]).toEqual(["rail", "arm", "lid"]);
  });
});

describe("a silence", () => {
  const site = siteOf([signal("beam", { expectMs: EXPECT })]);

  test("is unknown from the last reading on afterwards, and live only once it could be noticed", () => {
    const beam = only(site, { beam: [...every(EXPECT, 0, HOUR, 1), ...every(EXPECT, 2 * HOUR, DAY, 1)] });
    const last = HOUR - EXPECT;
    expect(steps(beam.account)).toEqual([[0, 1], [last, 2], [2 * HOUR, 1]]);
    expect(steps(beam.live)).toEqual([[0, 1], [last + 2.5 * EXPECT, 2], [2 * HOUR, 1]]);
    expect(beam.silences).toEqual([{ from: last, to: 2 * HOUR }]);
  });

  test("may last to the end of the period, and only where the end is far enough to tell", () => {
    const silent = only(site, { beam: every(EXPECT, 0, HOUR, 1) });
    expect(steps(silent.account)).toEqual([[0, 1], [HOUR - EXPECT, 2]]);
    expect(silent.silences).toEqual([{ from: HOUR - EXPECT, to: DAY }]);
    const merelyOver = only(site, { beam: every(EXPECT, 0, HOUR, 1) }, 0, HOUR - EXPECT + 2.5 * EXPECT);
    expect(steps(merelyOver.account)).toEqual([[0, 1]]);
  });

  test("may run over the start of the period or its end", () => {
    const rows = { beam: [...every(EXPECT, 0, HOUR, 1), ...every(EXPECT, 3 * HOUR, 4 * HOUR, 1)] };
    const inside = only(site, rows, 2 * HOUR, 4 * HOUR);
    expect(steps(inside.account)).toEqual([[2 * HOUR, 2], [3 * HOUR, 1]]);
    expect(inside.silences).toEqual([{ from: 2 * HOUR, to: 3 * HOUR }]);
    expect(steps(only(site, rows, 0, 2 * HOUR).account)).toEqual([[0, 1], [HOUR - EXPECT, 2]]);
  });

  test("ends with a state that must settle like any other", () => {
    const slow = siteOf([signal("beam", { expectMs: EXPECT, settleMs: 20 * SECOND })]);
    const beam = only(slow, { beam: [...every(EXPECT, 0, HOUR, 0), [2 * HOUR, 0], [2 * HOUR + SECOND, 1]] }, 0, 2 * HOUR + MINUTE);
    // A board that boots says "off" first and the truth a second later: that is no turn.
    expect(steps(beam.account)).toEqual([[0, 2], [20 * SECOND, 0], [HOUR - EXPECT, 2], [2 * HOUR + 21 * SECOND, 1]]);
  });

  test("that one lone reading interrupts does not let that reading settle the next return", () => {
    const slow = siteOf([signal("beam", { expectMs: EXPECT, settleMs: 20 * SECOND })]);
    const beam = only(slow, { beam: [...every(EXPECT, 0, HOUR, 0), [2 * HOUR, 1], [3 * HOUR, 1], [3 * HOUR + EXPECT, 1]] }, 0, 3 * HOUR + 2 * EXPECT);
    expect(beam.silences).toHaveLength(2);
    expect(steps(beam.account)).toEqual([[0, 2], [20 * SECOND, 0], [HOUR - EXPECT, 2], [3 * HOUR + 20 * SECOND, 1]]);
  });

  test("is, at every instant, what the gap around that instant says", () => {
    const end = 80;
    const someRows = fc.array(fc.tuple(fc.integer({ min: -20, max: end + 20 }), fc.constantFrom(0, 1, NaN)), { maxLength: 14 });
    fc.assert(
      fc.property(someRows, fc.integer({ min: 1, max: 12 }), (unsorted, expectMs) => {
        const rows = unsorted.toSorted((a, b) => a[0] - b[0]);
        const one = only(siteOf([signal("beam", { expectMs })]), { beam: rows }, 0, end);
        for (let at = 0; at < end; at += 1) {
          const last = rows.findLast(([time]) => time <= at);
          const next = rows.find(([time]) => time > at)?.[0] ?? end;
          const said = last === undefined || Number.isNaN(last[1]) ? 2 : last[1];
          const silent = last !== undefined && next - last[0] > 2.5 * expectMs;
          expect(stateAt(one.account, at)).toBe(silent ? 2 : said);
          expect(stateAt(one.live, at)).toBe(silent && at >= last[0] + 2.5 * expectMs ? 2 : said);
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe("a restart of a hub", () => {
  const far = { near: 3, far: 5 };
  const shares = ["hub"];
  const site = siteOf([
    meter("bay-1", far, { expectMs: EXPECT, shares }),
    meter("bay-2", far, { expectMs: EXPECT, shares }),
    meter("bay-3", far, { expectMs: EXPECT, shares }),
    signal("rail", { shares }),
    signal("gate", { shares: ["other-board"] }),
  ]);
  const down = 10 * HOUR;
  const up = 11 * HOUR;
  const [empty, parked] = [feet(8), feet(4)];
  const metersRestarted = (before: number, after: number): Rows =>
    Object.fromEntries(
      ["bay-1", "bay-2", "bay-3"].map((id, i) => [id, [...every(EXPECT, i * 40 * SECOND, down, before), ...every(EXPECT, up + i * SECOND, DAY, after)]]),
    );

  test("in which everything returns at once, and otherwise than it went, yields no turn", () => {
    const all = accounts(site, { ...metersRestarted(empty, parked), rail: [[0, 0], [up + SECOND, 1]], gate: [[0, 0]] });
    for (const id of ["bay-1", "bay-2", "bay-3", "rail"]) {
      const one = all.get(id)!;
      expect(look(one.account, [down - EXPECT - 1, down, up - 1, up + 2 * SECOND]), id).toEqual([0, 2, 2, 1]);
      expect(look(one.live, [down, up - 1, up + 2 * SECOND]), id).toEqual([2, 2, 1]);
      expect(one.restarts, id).toEqual([{ from: down - EXPECT + 80 * SECOND, to: up + 2 * SECOND, cause: "hub" }]);
      expect(turns(one), id).toEqual([]);
    }
  });

  test("would have yielded turns without its barrier", () => {
    const bay = accounts(site, { ...metersRestarted(empty, parked) }).get("bay-1")!;
    expect(turned(bay.account, 1, { bridgeMs: DAY, barriers: [] })).toHaveLength(1);
  });

  test("leaves alone what does not hang on the hub", () => {
    const gate = accounts(site, { ...metersRestarted(empty, parked), gate: [[0, 0]] }).get("gate")!;
    expect(gate.restarts).toEqual([]);
    expect(steps(gate.account)).toEqual([[0, 0]]);
  });

  test("makes a contact unknown that only reports changes, and gives it its last state back if it says nothing", () => {
    const rail = accounts(site, { ...metersRestarted(empty, empty), rail: [[0, 0], [12 * HOUR, 1]] }).get("rail")!;
    const from = down - EXPECT + 80 * SECOND;
    for (const one of [rail.account, rail.live]) expect(steps(one)).toEqual([[0, 0], [from, 2], [up + 2 * SECOND, 0], [12 * HOUR, 1]]);
    // What it reports an hour later is news, hence a turn: once in the account, once live.
    expect(turns(rail).map((turn) => turn.at)).toEqual([12 * HOUR, 12 * HOUR]);
  });

  test("takes a contact's first word within a minute as its return, not as news", () => {
    const rail = accounts(site, { ...metersRestarted(empty, empty), rail: [[0, 0], [up + 30 * SECOND, 1]] }).get("rail")!;
    expect(look(rail.account, [up + 29 * SECOND, up + 30 * SECOND])).toEqual([2, 1]);
    expect(turns(rail)).toEqual([]);
  });

  test("does not keep the others unknown for a meter that never came back", () => {
    const rows = metersRestarted(empty, empty);
    const all = accounts(site, { ...rows, "bay-3": every(EXPECT, 80 * SECOND, down, empty), rail: [[0, 0]] });
    expect(look(all.get("rail")!.account, [down, up + MINUTE])).toEqual([2, 0]);
    expect(look(all.get("bay-3")!.account, [down, up + MINUTE, DAY - 1])).toEqual([2, 2, 2]);
    expect(look(all.get("bay-3")!.live, [down, up + MINUTE, DAY - 1])).toEqual([2, 2, 2]);
  });

  test("that began before the period still bars the return inside it", () => {
    const all = accounts(site, { ...metersRestarted(empty, parked), rail: [[0, 0], [up, 1]] }, down + MINUTE);
    const rail = all.get("rail")!;
    expect(steps(rail.account)).toEqual([[down + MINUTE, 2], [up + 2 * SECOND, 1]]);
    expect(rail.restarts).toEqual([{ from: down + MINUTE, to: up + 2 * SECOND, cause: "hub" }]);
  });

  test("is told once for each cause that the same signals share", () => {
    const both = siteOf(site.signals.map((one) => ({ ...one, shares: ["hub", "supply"] })));
    expect(accounts(both, metersRestarted(empty, empty)).get("bay-1")!.restarts.map((one) => one.cause)).toEqual(["hub", "supply"]);
  });

  test("yields no turn whenever it happens, however the signals were staggered and whatever they say on return", () => {
    const word = fc.constantFrom(0, 1);
    const member = fc.record({ offset: fc.integer({ min: 0, max: EXPECT - 1 }), delay: fc.integer({ min: 0, max: 5 * SECOND }), before: word, after: word });
    const any = fc.record({
      members: fc.array(member, { minLength: 3, maxLength: 5 }),
      downAt: fc.integer({ min: HOUR, max: 2 * HOUR }),
      outage: fc.integer({ min: 3 * EXPECT, max: 5 * HOUR }),
      settleMs: fc.constantFrom(0, 20 * SECOND),
      contact: fc.record({ before: word, after: word, delay: fc.integer({ min: 0, max: MINUTE }) }),
    });
    fc.assert(
      fc.property(any, ({ members, downAt, outage, settleMs, contact }) => {
        const upAt = downAt + outage;
        const ids = members.map((_, i) => `beam-${i}`);
        const hub = siteOf([...ids.map((id) => signal(id, { expectMs: EXPECT, settleMs, shares })), signal("rail", { settleMs, shares })]);
        const beams = members.map(({ offset, delay, before, after }, i) => [
          ids[i]!,
          [...every(EXPECT, offset, downAt, before), ...every(EXPECT, upAt + delay, 9 * HOUR, after)],
        ]);
        const all = accounts(hub, { ...Object.fromEntries(beams), rail: [[0, contact.before], [upAt + contact.delay, contact.after]] } as Rows, 0, 9 * HOUR);
        for (const [id, one] of all) {
          expect(one.restarts, id).toHaveLength(1);
          expect(look(one.account, [upAt - 1, 9 * HOUR - 1])[0], id).toBe(2);
          expect(turns(one), id).toEqual([]);
        }
      }),
      { numRuns: 150 },
    );
  });
});
