import { describe, expect, test } from "vitest";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import { motionless } from "../../../src/truth/signals/motionless.js";
import { oneSided, silenced } from "../../../src/truth/signals/one-sided.js";
import type { SubjectClass } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { HOUR, MINUTE, SECOND, signal, siteOf } from "./small-site.js";

const DAY = 24 * HOUR;
const DAYS = 28;
const period = { from: 0, to: DAYS * DAY };
type Stay = readonly [from: number, to: number];

/** On in the stays alone, off elsewhere. */
function account(id: string, stays: readonly Stay[], end = period.to): SignalAccount {
  const steps = stays.flatMap(([from, to]): [number, TruthState][] => [[from, 1], [to, 0]]);
  const timeline = timelineOf(0, end, [[0, 0], ...steps]);
  return { signal: id, account: timeline, live: timeline, silences: [], restarts: [], readingCount: steps.length, flapCount: 0 };
}

const everyDay = (stays: (day: number) => readonly Stay[], days = DAYS): Stay[] => Array.from({ length: days }, (_, day) => stays(day).map(([from, to]): Stay => [day * DAY + from, day * DAY + to])).flat();

/** Two minutes long, every quarter of an hour from 7 to 8 and from 17 to 22. */
const movement = everyDay(() => [7, 17, 18, 19, 20, 21].flatMap((hour) => [0, 15, 30, 45].map((minute): Stay => [hour * HOUR + minute * MINUTE, hour * HOUR + (minute + 2) * MINUTE])));
/** At home but for 8 to 17. */
const atHome = everyDay(() => [[17 * HOUR, 32 * HOUR - 1]]);

function found(subjectClass: SubjectClass, stays: Readonly<Record<string, readonly Stay[]>>, end = period.to) {
  const site = { ...siteOf(Object.keys(stays).map((id) => signal(id, { subject: "it", kind: "flag" }))), subjects: [{ id: "it", class: subjectClass, vehicle: null }] };
  return oneSided(site, new Map(Object.entries(stays).map(([id, list]) => [id, account(id, list, end)])));
}

describe("a sensor that notices movement only", () => {
  test("is found on a person by its short pulses, and told with its figures", () => {
    expect(found("person", { hall: movement })).toEqual([
      { signal: "hall", why: "in 28 days it said 672 times that it is here, usually for 2 min and nine times in ten for no longer than 2 min, and away for 96 % of the time" },
    ]);
  });

  test("is found beside a phone that shows its long silences, and beside a second of its kind", () => {
    expect(found("person", { hall: movement, phone: atHome }).map((one) => one.signal)).toEqual(["hall"]);
    expect(found("person", { hall: movement, stairs: movement.map(([from, to]): Stay => [from + MINUTE, to + MINUTE]) })).toHaveLength(2);
  });

  test("is found on a bay by its bursts", () => {
    const drivingIn = everyDay(() => [8 * HOUR, 17 * HOUR].flatMap((at) => [0, 2, 4].map((minute): Stay => [at + minute * MINUTE, at + minute * MINUTE + 30 * SECOND])));
    expect(found("bay", { radar: drivingIn })).toHaveLength(1);
  });

  test("shows it in twenty pulses of a quarter of an hour or less, and in no fewer", () => {
    const pulses = (count: number, length = 15 * MINUTE): Stay[] => everyDay(() => [[12 * HOUR, 12 * HOUR + length]], count);
    expect(found("person", { hall: pulses(20) })).toHaveLength(1);
    expect(found("person", { hall: pulses(19) })).toEqual([]);
    expect(found("person", { hall: pulses(20, 15 * MINUTE + 1) })).toEqual([]);
    // Nine in ten of its stretches are enough, fewer are not.
    const evening = (days: number): Stay[] => everyDay(() => [[17 * HOUR, 20 * HOUR]], days);
    const both = (days: number): Stay[] => [...pulses(27), ...evening(days)].toSorted((a, b) => a[0] - b[0]);
    expect(found("person", { hall: both(3) })).toHaveLength(1);
    expect(found("person", { hall: both(4) })).toEqual([]);
  });

  test("comes on a bay in bursts with pauses of ten minutes or less", () => {
    const pairs = (pause: number): Stay[] => everyDay(() => [[8 * HOUR, 8 * HOUR + MINUTE], [8 * HOUR + MINUTE + pause, 8 * HOUR + 2 * MINUTE + pause]], 10);
    expect(found("bay", { radar: pairs(10 * MINUTE) })).toHaveLength(1);
    expect(found("bay", { radar: pairs(10 * MINUTE + 1) })).toEqual([]);
  });

  test("is a signal by words, and one that has an account", () => {
    const site = (parts: object) => ({ ...siteOf([signal("hall", { subject: "it", kind: "flag", ...parts })]), subjects: [{ id: "it", class: "person" as const, vehicle: null }] });
    const accounts = new Map([["hall", account("hall", movement)]]);
    expect(oneSided(site({}), accounts)).toHaveLength(1);
    expect(oneSided(site({ reading: { form: "distance", unit: "m" } }), accounts)).toEqual([]);
    expect(oneSided(site({}), new Map())).toEqual([]);
  });

  test("is not believed beside another that confirms less than half of its time, and is beside one that confirms half", () => {
    const evenings = everyDay(() => [[18 * HOUR, 18 * HOUR + 20 * MINUTE]]);
    const pulses = (length: number): Stay[] => everyDay(() => [[18 * HOUR, 18 * HOUR + length]]);
    expect(found("person", { hall: pulses(10 * MINUTE), phone: evenings })).toEqual([]);
    expect(found("person", { hall: pulses(10 * MINUTE - SECOND), phone: evenings })).toHaveLength(1);
  });

  test("knows nothing from then on, to rules too", () => {
    const { account: told, live } = silenced(account("hall", movement));
    expect([stateAt(told, DAY), stateAt(live, DAY), told.times.length]).toEqual([2, 2, 1]);
  });
});

describe("what is not taken for one", () => {
  test.each<[string, SubjectClass, Record<string, readonly Stay[]>]>([
    ["a door, open for seconds", "door", { rail: everyDay(() => [8, 12, 17].map((hour): Stay => [hour * HOUR, hour * HOUR + 40 * SECOND])) }],
    ["a tag reader with in and out", "person", { tag: everyDay(() => [[6 * HOUR, 12 * HOUR], [12.5 * HOUR, 15 * HOUR]]) }],
    ["a phone that flaps in its owner's house by night", "person", { phone: everyDay((day) => (day % 2 === 0 ? [[17 * HOUR, 32 * HOUR - 1]] : [[17 * HOUR, 22 * HOUR], ...[0, 1, 2, 3, 4, 5].map((i): Stay => [22 * HOUR + i * 10 * MINUTE, 22 * HOUR + i * 10 * MINUTE + 5 * MINUTE]), [24 * HOUR, 32 * HOUR - 1]])) }],
    ["a phone that flaps all day", "person", { phone: everyDay(() => Array.from({ length: 140 }, (_, i): Stay => [i * 10 * MINUTE, i * 10 * MINUTE + 6 * MINUTE])) }],
    ["a mat on a bay for short visits", "bay", { mat: everyDay(() => [8, 9, 11, 12.5, 14, 15].map((hour): Stay => [hour * HOUR, hour * HOUR + 4 * MINUTE])) }],
    ["a mat on a bay with two visits soon after one another now and then", "bay", { mat: everyDay((day) => (day % 3 === 0 ? [[8 * HOUR, 8 * HOUR + 3 * MINUTE], [8 * HOUR + 9 * MINUTE, 8 * HOUR + 12 * MINUTE], [12 * HOUR, 12 * HOUR + 4 * MINUTE]] : [[8 * HOUR, 8 * HOUR + 3 * MINUTE], [12 * HOUR, 12 * HOUR + 5 * MINUTE]])) }],
    ["a month with two arrivals", "person", { phone: [[2 * DAY, 5 * DAY], [20 * DAY, 21 * DAY]] }],
    ["a month with two short visits", "person", { phone: [[2 * DAY, 2 * DAY + 5 * MINUTE], [20 * DAY, 20 * DAY + 5 * MINUTE]] }],
    ["a watchman on his rounds whom a tag and a phone tell of", "person", { tag: everyDay(() => [1, 3, 5].map((hour): Stay => [hour * HOUR, hour * HOUR + 10 * MINUTE])), phone: everyDay(() => [1, 3, 5].map((hour): Stay => [hour * HOUR, hour * HOUR + 16 * MINUTE])) }],
  ])("%s", (_, subjectClass, stays) => {
    expect(found(subjectClass, stays)).toEqual([]);
  });

  test("anything in hardly three days", () => {
    expect(found("person", { hall: movement.slice(0, 60) }, 2.5 * DAY)).toEqual([]);
  });
});

describe("a bay or person of which no signal changes", () => {
  const site = { signals: [signal("phone", { subject: "ida" }), signal("rail", { subject: "door" }), signal("mat", { subject: "bay" })], subjects: [{ id: "ida", class: "person", vehicle: null }, { id: "door", class: "door", vehicle: null }, { id: "bay", class: "bay", vehicle: null }] as const };
  const still = account("phone", []);
  const moving = account("mat", atHome);

  test("in two weeks or more, while others move, is told", () => {
    const accounts = new Map([["phone", still], ["mat", moving]]);
    expect(motionless(site, accounts, period)).toEqual([{ subject: "ida", state: 0 }]);
    expect(motionless(site, accounts, { from: 0, to: 14 * DAY })).toEqual([{ subject: "ida", state: 0 }]);
    expect(motionless(site, accounts, { from: 0, to: 14 * DAY - 1 })).toEqual([]);
  });

  test("is the state that its signals agree on, whether or not all of them were known", () => {
    const two = { ...site, signals: [...site.signals, signal("tag", { subject: "ida" })] };
    const accounts = (tag: SignalAccount) => new Map([["phone", still], ["mat", moving], ["tag", tag]]);
    expect(motionless(two, accounts(silenced(still)), period)).toEqual([{ subject: "ida", state: 0 }]);
    expect(motionless(two, accounts(still), period)).toEqual([{ subject: "ida", state: 0 }]);
    // One says away throughout, the other here throughout: they differ, and neither is motionless.
    expect(motionless(two, accounts({ ...still, account: timelineOf(0, period.to, [[0, 1]]) }), period)).toEqual([]);
    expect(motionless(two, accounts(moving), period)).toEqual([]);
  });

  test("counts while another signal turned four times, and not for three; its own subject does not count, nor does a door stand still", () => {
    const turning = (turns: number) => account("mat", atHome.slice(0, Math.ceil(turns / 2)));
    const of = (mat: SignalAccount) => motionless(site, new Map([["phone", still], ["mat", mat], ["rail", account("rail", [])]]), period).map(({ subject }) => subject);
    expect(of(turning(4))).toEqual(["ida"]);
    expect(of(turning(2))).toEqual([]);
  });

  test("is no wonder where nothing moves, nor where nothing is known of it", () => {
    expect(motionless(site, new Map([["phone", still], ["mat", account("mat", [])]]), period)).toEqual([]);
    expect(motionless(site, new Map([["phone", silenced(still)], ["mat", moving]]), period)).toEqual([]);
  });
});
