import { describe, expect, it } from "vitest";
import type { Interval } from "../../../src/ground/intervals.js";
import type { Frame } from "../../../src/judge/questions/frames.js";
import { localWords } from "../../../src/judge/questions/local-words.js";
import { movementsOf } from "../../../src/judge/questions/movements.js";
import { routineQuestions, type Routine } from "../../../src/judge/questions/routines.js";
import { accountsOf, min } from "../small-site.js";
import { days, household } from "./small-household.js";

const site = household({ wrongPerYear: 1, missedShare: 0.1, withinMs: min(2) });
const period = days(10);
/** Local time in London was an hour ahead of UTC all through 1970. */
const at = (day: number, hour: number): number => (day * 24 + hour - 1) * 60;
const frame = (day: number, hour: number): Frame => ({ subject: "robin", class: "person", states: new Set([1]), from: min(at(day, hour)), to: min(at(day, hour) + 20), instants: [] });

/** Robin's phone is lost for twenty minutes on some nights, and only then. */
function routines(frames: readonly Frame[], gate = "0 off", written: ReadonlyMap<string, readonly Interval[]> = new Map(), wasAsked: (time: Interval) => boolean = () => false): Routine[] {
  const lost = frames.map(({ from, to }) => `${from / min(1)} off, ${to / min(1)} on`);
  const accounts = accountsOf({ "gate-contact": gate, "phone-sam": "0 on", "phone-robin": ["0 on", ...lost].join(", ") }, [], period);
  return routineQuestions(frames, frames, { site, accounts, period, words: localWords(site.timeZone), written, wasAsked, movements: movementsOf(site, accounts) });
}

const nights = [frame(1, 23.2), frame(3, 1.5), frame(4, 2), frame(6, 3.4)];

describe("a phone that is lost and found again on several nights", () => {
  const [habit, ...others] = routines(nights);

  it("is one question about a habit, its hours rounded outward", () => {
    expect(others).toEqual([]);
    expect(habit!.draft.wording().text).toBe("Was robin at home every night from 23:00 to 04:00, from Friday 2 January to Wednesday 7 January?");
    expect(habit!.frames).toEqual(nights);
  });

  it("lets each night be excepted, and writes a row for each", () => {
    const { days: excepted } = habit!.draft;
    const { answers } = habit!.draft.wording();
    expect(excepted.map(({ says }) => says)).toEqual([
      "the night from Friday 2 January to 3 January", "the night from Saturday 3 January to 4 January", "the night from Sunday 4 January to 5 January", "the night from Monday 5 January to 6 January", "the night from Tuesday 6 January to 7 January",
    ]);
    expect(answers[0]!.rows).toEqual(excepted.map(({ from, to }) => ({ subject: "robin", state: "here", from, to })));
    expect(new Set(answers[1]!.rows.map(({ state }) => state))).toEqual(new Set([""]));
  });

  it("leaves out the nights of which the diary tells", () => {
    const [again] = routines(nights, "0 off", new Map([["robin", [{ from: 0, to: min(at(4, 12)) }]]]));
    expect(again!.draft.days).toHaveLength(2);
  });

  it("leaves out a night that somebody excepted or knew nothing of: what moved in it is asked about by itself", () => {
    const third = habit!.draft.days[2]!;
    const [again] = routines(nights, "0 off", new Map(), ({ from, to }) => from === third.from && to === third.to);
    expect(again!.draft.days).toEqual(habit!.draft.days.filter((day) => day !== third));
    expect(again!.frames).toEqual(nights.filter(({ from }) => from < third.from || from >= third.to));
  });

  it("is about the nights and about the times in them, so that who does not know is asked about neither again", () => {
    expect(habit!.draft.about.slice(0, 5)).toEqual(habit!.draft.days.map(({ from, to }) => ({ subject: "robin", from, to })));
    expect(habit!.draft.about.slice(5)).toEqual(nights.map(({ from, to }) => ({ subject: "robin", from, to })));
  });
});

it("fewer than three nights are asked about one by one", () => {
  expect(routines(nights.slice(0, 2))).toEqual([]);
});

it("a night on which the gate moved too is asked about by itself: somebody may have come", () => {
  const gate = nights.slice(0, 2).map(({ from }) => `${from / min(1) + 5} on, ${from / min(1) + 6} off`);
  expect(routines(nights, ["0 off", ...gate].join(", "))).toEqual([]);
});
