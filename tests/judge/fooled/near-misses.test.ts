import { describe, expect, it } from "vitest";
import { fooledContext } from "../../../src/judge/fooled/context.js";
import { marginSummary } from "../../../src/judge/fooled/near-misses.js";
import type { LaneHistory } from "../../../src/judge/replay/histories.js";
import type { Expression } from "../../../src/site/expression.js";
import { accountsOf, allOf, anyOf, bookOf, day, is, line, min, no, over, ruleOf, siteOf } from "../small-site.js";
import type { NearMissFinding } from "../../../src/result/rules.js";

const site = siteOf({ subjects: { mira: "person", "bay-1": "bay", "yard-door": "door" }, signals: { phone: "mira", meter: "bay-1", rail: "yard-door" } });
const span = { from: 0, to: min(600) };
const [phone, meter, rail] = [is("phone", 1), is("meter", 1), is("rail", 1)];

function found(when: Expression, histories: Readonly<Record<string, string>>, outside: string, full = outside, restMs = 0): readonly NearMissFinding[] {
  const rule = ruleOf(when, is("mira", 1), { act: "lock", restMs });
  return marginSummary(fooledContext(over(site, rule, accountsOf(histories, [], span), bookOf({ mira: { truth: full, outside } }, span), span), new Map()), []).nearMisses;
}
const told = (misses: readonly NearMissFinding[]): string[] => misses.map(({ from, to, inTheWay, verified }) => `${from / min(1)}-${to / min(1)} ${inTheWay.join("+")}${verified ? "" : " (unverified)"}`);

describe("near misses", () => {
  it("are the stretches at a margin of 1 while firing would have been wrong, with what stood in the way", () => {
    const misses = found(allOf(phone, meter, rail), { phone: "0 off", meter: "0 off, 100 on, 200 off", rail: "0 off, 50 on" }, "0 off, 150 on");
    expect(told(misses)).toEqual(["100-150 phone"]);
    expect(misses[0]?.why).toBe("It would have fired if it had read: phone is here.");
  });

  it("run on while another signal takes over standing in the way", () => {
    const misses = found(allOf(phone, meter), { phone: "0 off, 100 on", meter: "0 on, 100 off" }, "0 off");
    expect(told(misses)).toEqual(["0-600 meter+phone"]);
    expect(misses[0]?.why).toBe("It would have fired if it had read: phone is here; or meter is occupied.");
  });

  it("name each signal that alone would have done", () => {
    expect(told(found(anyOf(phone, allOf(meter, rail)), { phone: "0 off", meter: "0 on, 100 off", rail: "0 off" }, "0 off"))).toEqual(["0-600 phone+rail"]);
  });

  it("are no firing's beginning or aftermath, nor in its rest", () => {
    const histories = { phone: "0 off, 100 on, 110 off", meter: "0 off, 90 on, 130 off, 140 on, 300 off" };
    expect(told(found(allOf(phone, meter), histories, "0 off"))).toEqual(["140-300 phone"]);
    expect(told(found(allOf(phone, meter), histories, "0 off", "0 off", min(60)))).toEqual(["160-300 phone"]);
    expect(told(found(allOf(phone, meter), histories, "0 off", "0 off", min(400)))).toEqual([]);
  });

  it("say where only the rule's own signals tell that it would have been wrong", () => {
    const histories = { phone: "0 off", meter: "0 on" };
    expect(told(found(allOf(phone, meter), histories, "", "0 off, 50 on"))).toEqual(["0-50 phone (unverified)"]);
    expect(told(found(allOf(phone, meter), histories, "0 ?, 20 off, 30 ?", "0 off, 50 on"))).toEqual(["0-50 phone"]);
    expect(told(found(allOf(phone, meter), histories, "", ""))).toEqual([]);
  });

  it("count what is unknown as standing in the way, and say a denied condition as it is written", () => {
    const misses = found(allOf(meter, no(rail)), { meter: "0 on", rail: "0 ?" }, "0 off");
    expect(told(misses)).toEqual(["0-600 rail"]);
    expect(misses[0]?.why).toContain("not");
  });
});

/** A near miss in minutes. */
interface Near {
  readonly from: number;
  readonly minutes: number;
  readonly verified: boolean;
}
const near = (from: number, minutes: number, verified = true): Near => ({ from, minutes, verified });

const lanes: LaneHistory[] = [
  { label: "phone", role: "signal", timeline: line("0 off, 300 ?, 320 off") },
  { label: "unlock on arrival", role: "rule", timeline: line("0 off") },
];

/** A day with just these near misses: the meter is on in each, and who was outside the rule knows that nobody was there, or not. */
function shown(misses: readonly Near[]): readonly NearMissFinding[] {
  const meterSays = ["0 off", ...misses.flatMap(({ from, minutes }) => [`${from} on`, `${from + minutes} off`])].join(", ");
  const outside = ["0 ?", ...misses.filter(({ verified }) => verified).flatMap(({ from, minutes }) => [`${from} off`, `${from + minutes} ?`])].join(", ");
  const rule = over(site, ruleOf(allOf(phone, meter), is("mira", 1), { act: "lock" }), accountsOf({ phone: "0 off", meter: meterSays }), bookOf({ mira: { truth: "0 off", outside } }));
  return marginSummary(fooledContext(rule, new Map()), lanes).nearMisses;
}
const withExcerpt = (misses: readonly Near[]): number[] => shown(misses).flatMap(({ from, excerpt }) => (excerpt === null ? [] : [from / min(1)]));

describe("excerpts of near misses", () => {
  it("show the lanes from before the stretch to after it, as those of firings do", () => {
    expect(shown([near(290, 60)])[0]?.excerpt).toEqual({
      from: min(290 - 15),
      to: min(350 + 10),
      lanes: [
        { label: "phone", role: "signal", steps: [[min(275), "off"], [min(300), "unknown"], [min(320), "off"]] },
        { label: "unlock on arrival", role: "rule", steps: [[min(275), "off"]] },
      ],
    });
  });

  it("are cut to the period, and show only the beginning of a long stretch", () => {
    expect(shown([near(0, 5)])[0]?.excerpt).toMatchObject({ from: 0 });
    expect(shown([near(1430, 10)])[0]?.excerpt).toMatchObject({ to: day.to });
    expect(shown([near(100, 1000)])[0]?.excerpt).toMatchObject({ to: min(100 + 360 + 10) });
  });

  it("are kept of the worst: those confirmed, then the longest, then the first; all near misses stay, in their order", () => {
    const many = Array.from({ length: 8 + 4 }, (_, i) => near(i * 20, 5, false));
    expect(withExcerpt(many)).toEqual(many.slice(0, 8).map(({ from }) => from));
    const longLast = [...many, near(1000, 30, false)];
    expect(withExcerpt(longLast)).toEqual([...many.slice(0, 7).map(({ from }) => from), 1000]);
    const confirmedLast = [...longLast, near(1100, 1, true)];
    expect(withExcerpt(confirmedLast)).toEqual([...many.slice(0, 6).map(({ from }) => from), 1000, 1100]);
    expect(shown(confirmedLast).map(({ from }) => from / min(1))).toEqual(confirmedLast.map(({ from }) => from));
  });
});

describe("the margin in hours", () => {
  it("is summed over the period and over the time in which firing would have been wrong", () => {
    const rule = over(site, ruleOf(allOf(phone, meter, no(no(phone))), is("mira", 1), { act: "lock" }), accountsOf({ phone: "0 off, 600 on", meter: "0 off, 300 on" }), bookOf({ mira: { truth: "0 off, 60 on", outside: "0 off, 60 on" } }));
    const { exact, hoursAt, hoursAtWhileWrong } = marginSummary(fooledContext(rule, new Map()), []);
    expect(exact).toBe(true);
    expect(hoursAt).toEqual([[0, 14], [1, 5], [2, 5]]);
    expect(hoursAtWhileWrong).toEqual([[2, 1]]);
  });

  it("has no number where nothing could make it fire", () => {
    const never = over(site, ruleOf(allOf(phone, no(phone)), is("mira", 1), { act: "lock" }), accountsOf({ phone: "0 off" }), bookOf({ mira: { truth: "0 off" } }));
    expect(marginSummary(fooledContext(never, new Map()), []).hoursAt).toEqual([[null, 24]]);
  });
});
