import { expect, it } from "vitest";
import { stirsOf } from "../../../src/compare/signals/stirs.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import { bookOf, siteWith, subject } from "../../truth/episodes/small-site.js";

const HOUR = 3_600_000;
const from = Date.UTC(2026, 5, 1);
const at = (...steps: readonly (readonly [number, TruthState])[]) => timelineOf(from, from + 48 * HOUR, steps.map(([hour, state]) => [from + hour * HOUR, state] as const));
const stir = (id: string) => ({ id, subject: "household", kind: "stir" }) as never;
const account = (signal: string, ...hours: readonly number[]): [string, SignalAccount] => {
  const stirring = at([0, 0], ...hours.flatMap((hour): (readonly [number, TruthState])[] => [[hour, 1], [hour + 0.25, 0]]));
  return [signal, { signal, account: stirring, stirring } as SignalAccount];
};
const site = { ...siteWith([subject("household", "person"), subject("mira", "person")], []), signals: [stir("hall"), stir("tap")], timeZone: "UTC" };

it("counts how often each stirred, and how long nothing did in one stay at home, by day and by night", () => {
  // At home until 12:00, and from 20:00 on.
  const book = bookOf({ household: at([0, 1], [12, 0], [20, 1]), mira: at([0, 1]) });
  const found = stirsOf(site, new Map([account("hall", 7, 8, 11, 20.5, 31), account("tap", 8.1, 15)]), book);
  expect(found).toEqual([
    {
      subject: "household",
      hereHours: 40,
      signals: [{ signal: "hall", times: 5, timesADayHere: 3 }, { signal: "tap", times: 2, timesADayHere: 0.6 }],
      silences: {
        day: { count: 3, medianHours: 2.65, longHours: expect.closeTo(9.49, 2) as number, longestHours: 10.25 },
        night: { count: 0, medianHours: null, longHours: null, longestHours: null },
      },
    },
  ]);
});

it("has nothing to say of people whom no such sensor is on", () => {
  expect(stirsOf({ ...site, signals: [] }, new Map(), bookOf({}))).toEqual([]);
});
