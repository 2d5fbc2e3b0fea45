import { describe, expect, it } from "vitest";
import { parseSite } from "../../../src/site/parse.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import type { ReferenceSegment } from "../../../src/truth/reference/reference.js";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const DAYS = 21;
const period = { from: 0, to: DAYS * DAY };

const site = parseSite(
  `site: A home
timezone: UTC
sources: { log: { files: log.csv, time: { column: time, written: iso }, signal: what, value: says } }
doors: { front: {} }
people: { ida: {} }
signals:
  hall: { on: ida, source: log, channel: hall, kind: stir, stirs: moved, still: quiet }
  room: { on: ida, source: log, channel: room, kind: stir, stirs: moved, still: quiet }
  contact: { on: front, source: log, channel: front, kind: contact, open: open, closed: shut }
  phone: { on: ida, source: log, channel: phone, kind: phone, here: near, away: far }
`,
  "site.yaml",
  "/",
);

type Steps = (readonly [number, TruthState])[];

/** Ida stirs every nine minutes from 7:00 to 23:00 but from 8:05 to 17:30, when she is out; the door is used then, and once more at noon on day 9. */
function month({ dark = [] as readonly (readonly [number, number])[], phone = false, nap = false } = {}): ReadonlyMap<string, SignalAccount> {
  const hall: Steps = [];
  const room: Steps = [];
  const front: Steps = [[0, 0]];
  for (let day = 0; day < DAYS; day += 1) {
    const at = (hour: number, minute: number, second = 0): number => day * DAY + hour * HOUR + minute * MINUTE + second * 1000;
    for (let m = 0; m < 16 * 60; m += 9) {
      const now = at(7, m);
      const out = now > at(8, 0) && now < at(17, 33);
      const napping = nap && day === 11 && now > at(19, 0) && now < at(21, 30);
      if (!out && !napping) (m % 2 === 0 ? room : hall).push([now, 1], [now + MINUTE, 0]);
    }
    hall.push([at(8, 4, 10), 1], [at(8, 5, 10), 0], [at(17, 30, 8), 1], [at(17, 31, 8), 0]);
    front.push([at(8, 4, 40), 1], [at(8, 5), 0], [at(17, 30), 1], [at(17, 30, 20), 0]);
  }
  const sorted = (steps: Steps): Steps => steps.toSorted((a, b) => a[0] - b[0]);
  const darkened = (steps: Steps): Steps =>
    sorted([...steps.filter(([at]) => !dark.some(([from, to]) => from <= at && at < to)), ...dark.flatMap(([from, to]): Steps => [[from, 2], [to, 0]])]);
  const phoneSteps: Steps = [[0, 1], ...Array.from({ length: DAYS }, (_, day): Steps => [[day * DAY + 8 * HOUR + 9 * MINUTE, 0], [day * DAY + 17 * HOUR + 33 * MINUTE, 1]]).flat()];
  const stir = (signal: string, steps: Steps): SignalAccount => {
    const stirring = timelineOf(0, period.to, [[0, 0], ...darkened(steps)]);
    const account = { ...stirring, states: stirring.states };
    return { ...blank(signal), account: timelineOf(0, period.to, darkened(steps).map(([at, state]) => [at, state === 1 ? 1 : 2])), live: account, stirring };
  };
  const plain = (signal: string, steps: Steps): SignalAccount => ({ ...blank(signal), account: timelineOf(0, period.to, steps), live: timelineOf(0, period.to, steps) });
  return new Map([
    ["hall", stir("hall", hall)],
    ["room", stir("room", room)],
    ["contact", plain("contact", sorted(front))],
    ...(phone ? [["phone", plain("phone", phoneSteps)] as const] : []),
  ]);
}

function blank(signal: string): Omit<SignalAccount, "account" | "live"> {
  return { signal, silences: [], restarts: [], readingCount: 0, flapCount: 0 };
}

function at(segments: readonly ReferenceSegment[], instant: number): ReferenceSegment {
  return segments.find(({ from, to }) => from <= instant && instant < to)!;
}

describe("a person whom stirs and a door tell of", () => {
  const { segments } = makeReferenceBook(site, month(), [], period)("ida", []);
  const day = 9 * DAY;

  it("is away from when the door shut to when it opened, to the second", () => {
    const away = at(segments, day + 12 * HOUR);
    expect([away.from - day, away.to - day, away.state]).toEqual([8 * HOUR + 5 * MINUTE, 17 * HOUR + 30 * MINUTE, 0]);
  });

  it("is here at night, however long nothing stirs", () => {
    expect(at(segments, day + 26 * HOUR)).toMatchObject({ state: 1, basis: "one", vouchers: ["hall", "room"] });
  });

  it("is never confirmed, here or away, by stirs alone, nor told at more than 95 %", () => {
    expect(new Set(segments.map(({ basis }) => basis))).not.toContain("several");
    expect(Math.max(...segments.map(({ probability }) => probability))).toBe(0.95);
  });

  it("has been away all the same where the phone says so; silence makes no second witness of it", () => {
    const { segments: told } = makeReferenceBook(site, month({ phone: true }), [], period)("ida", []);
    expect(at(told, day + 12 * HOUR)).toMatchObject({ state: 0, basis: "one", from: day + 8 * HOUR + 5 * MINUTE });
    expect(at(told, day + 20 * HOUR)).toMatchObject({ state: 1, basis: "several" });
  });

  it("is not known while the sensors are dark, whatever the door does", () => {
    const { segments: told } = makeReferenceBook(site, month({ dark: [[day + 9 * HOUR, day + 16 * HOUR]] }), [], period)("ida", []);
    expect(at(told, day + 12 * HOUR)).toMatchObject({ state: 2, basis: "none" });
    expect(at(told, day + 20 * HOUR).state).toBe(1);
  });

  it("who naps for once with no door used is not taken to have left", () => {
    const { segments: told } = makeReferenceBook(site, month({ nap: true }), [], period)("ida", []);
    expect(at(told, 11 * DAY + 20.5 * HOUR).state).toBe(1);
  });

  it("is dated by the door although the diary rounds: the written time stays certain", () => {
    const { segments: told } = makeReferenceBook(site, month(), [{ subject: "ida", state: 0, from: day + 8.25 * HOUR, to: day + 17.25 * HOUR, file: "d.csv", line: 2 }], period)("ida", []);
    expect(at(told, day + 12 * HOUR)).toMatchObject({ state: 0, basis: "diary" });
    expect(at(told, day + 8 * HOUR + 6 * MINUTE).state).toBe(0);
    expect(at(told, day + 8 * HOUR + 4 * MINUTE).state).toBe(1);
  });

  it("is not dated by a door that the asker leaves out", () => {
    const { segments: told } = makeReferenceBook(site, month(), [], period)("ida", ["contact"]);
    expect(told.some(({ from, state }) => state === 0 && from === day + 8 * HOUR + 5 * MINUTE)).toBe(false);
  });
});
