import { describe, expect, it } from "vitest";
import { judgedSensor } from "../../../src/compare/sensors/judged.js";
import type { When } from "../../../src/compare/sensors/when.js";
import type { Mend } from "../../../src/result/mend.js";
import { exampleFindings } from "../../report/example-findings.js";

const HOUR = 3_600_000;
const wall = exampleFindings.signals.find(({ signal }) => signal === "bay-1-wall")!;
const phone = exampleFindings.signals.find(({ signal }) => signal === "phone-mira")!;
const seconds = (value: number) => ({ ...wall.lagOn.median, value, unit: "seconds" });
type Score = typeof wall;

/** A sensor with nothing against it. */
const clean = (score: Score, more: Partial<Score> = {}): Score => ({
  ...score, agreement: { ...score.agreement, value: 0.999 }, transitions: { reference: 84, matched: 84, judged: 84, missed: 0, phantom: 0, fragmented: 0 },
  knownShare: 0.999, silences: { count: 0, hours: 0, longestHours: 0 },
  lagOn: { median: seconds(24), p90: seconds(26), p95: seconds(30) }, lagOff: { median: seconds(24), p90: seconds(26), p95: seconds(30) }, ...more,
});
const quiet: When = { differed: [], silent: [], unchecked: [] };
const nothing = { mend: [], phantoms: [], bands: [], changes: [], disagreements: [], period: exampleFindings.period };
const judge = (score: Score, when: Partial<When> = {}, findings: Partial<Parameters<typeof judgedSensor>[0]["findings"]> = {}, bandWouldMend = false) =>
  judgedSensor({ score, when: { ...quiet, ...when }, findings: { ...nothing, ...findings }, bandWouldMend: () => bandWouldMend });
const wrong = (hours: number, said: 0 | 1 = 0, from = 0) => ({ from, to: from + hours * HOUR, said });
const named = (target: string, weight: number, what: Mend["what"] = "signal"): Mend => ({ what, target, text: "", why: "", rules: [], weight });
const falseReport = (signal: string, said: "on" | "off") => ({ signal, subject: "", said, from: 0, to: 60_000 });

describe("the state of a sensor", () => {
  it("is fine, and says what it saw, where nothing is against it", () => {
    expect(judge(clean(wall))).toMatchObject({ state: "fine", fault: "none", why: ["saw all 84 changes, 24 s late"] });
  });

  it("is mend where it was blind for a night, and look where for an hour and a half", () => {
    expect(judge(clean(wall), { differed: [wrong(17)] })).toMatchObject({ state: "mend", fault: "blind", why: ["blind for 17 h"] });
    expect(judge(clean(wall), { differed: [wrong(1.5)] })).toMatchObject({ state: "look", fault: "blind", why: ["blind for 90 min"] });
    expect(judge(clean(wall), { differed: [wrong(2), wrong(33, 0, 50 * HOUR)] }).why).toEqual(["blind twice, once 33 h"]);
  });

  it("says in the words of its subject what it wrongly said", () => {
    expect(judge(clean(wall), { differed: [wrong(3, 1)] }).why).toEqual(["wrongly “vehicle” for 3 h"]);
    expect(judge(clean(phone), { differed: [wrong(3)] }).why).toEqual(["wrongly “away” for 3 h"]);
  });

  it("names the band where the vehicle's readings ask for another one", () => {
    const bands = exampleFindings.bands.slice(0, 1).map((one) => ({ ...one, signal: "bay-1-wall", presentHolds: false, suggested: { nearMetres: 1, farMetres: 2, written: "present: [1, 2]" } }));
    expect(judge(clean(wall), { differed: [wrong(3)] }, { bands }, true)).toMatchObject({ state: "look", fault: "band", why: ["vehicle outside its band for 3 h"] });
    // With that band it would have read the same: it saw the empty bay.
    expect(judge(clean(wall), { differed: [wrong(3)] }, { bands }, false)).toMatchObject({ fault: "blind", why: ["blind for 3 h"] });
  });

  it("counts false reports and how late it leaves, but not one false report alone", () => {
    const phantoms = Array.from({ length: 5 }, () => falseReport("phone-mira", "off"));
    const late = clean(phone, { lagOff: { median: seconds(345), p90: seconds(486), p95: seconds(500) } });
    expect(judge(late, {}, { phantoms })).toMatchObject({ state: "look", fault: "false reports", why: ["dropped out five times", "leaves 6 min late"] });
    expect(judge(clean(phone), {}, { phantoms: phantoms.slice(0, 1) }).state).toBe("fine");
  });

  it("is look where it was silent, broken up, or differs from another and nobody can tell", () => {
    expect(judge(clean(wall, { knownShare: 0.94, silences: { count: 5, hours: 38, longestHours: 37 } }))).toMatchObject({ state: "look", why: ["silent for 37 h"] });
    expect(judge(clean(wall, { transitions: { ...clean(wall).transitions, fragmented: 61 } }))).toMatchObject({ state: "look", why: ["on and off 61 times"] });
    const pair = { signals: ["bay-1-overhead", "bay-1-wall"] as [string, string], count: 13, hours: 0.4, jointDays: 31, perMonth: wall.agreement };
    expect(judge(clean(wall), {}, { disagreements: [{ subject: "bay-1", pairs: [pair], count: 13, brief: 0, hours: 0.4, list: [] }] })).toMatchObject({ state: "look", fault: "disputed", why: ["differs from bay-1-overhead 13 times"] });
  });

  it("is look, never fine, where nobody can check it", () => {
    expect(judge(clean(wall, { agreement: { ...wall.agreement, value: null } }))).toMatchObject({ state: "look", fault: "unchecked", why: ["nothing to check it against"] });
  });

  it("agrees with the mending list: what made a rule err is mend, what else is named is look", () => {
    expect(judge(clean(wall), {}, { mend: [named("bay-1-wall", 2)] })).toMatchObject({ state: "mend", fault: "harm", why: ["made a rule err"] });
    expect(judge(clean(wall), {}, { mend: [named("bay-1-wall", 0.1, "band")] }).state).toBe("look");
    expect(judge(clean(wall), {}, { mend: [named("bay-1-overhead, bay-1-wall", 9, "pair")] }).state).toBe("look");
    expect(judge(clean(wall), {}, { mend: [named("bay-1-overhead", 9)] }).state).toBe("fine");
  });
});
