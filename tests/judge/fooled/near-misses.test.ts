import { describe, expect, it } from "vitest";
import { evaluateParts, timelineOfPart } from "../../../src/judge/rule/evaluate.js";
import { marginOf } from "../../../src/judge/fooled/margin.js";
import { nearMisses, type NearMiss } from "../../../src/judge/fooled/near-misses.js";
import { withRests } from "../../../src/judge/replay/replay.js";
import { wrongTime } from "../../../src/judge/fooled/context.js";
import type { Expression } from "../../../src/site/expression.js";
import { collapse } from "../../../src/timeline/collapse.js";
import { rises } from "../../../src/timeline/rises.js";
import { allOf, anyOf, is, line, min, no, ruleOf, siteOf } from "../small-site.js";

const site = siteOf({ subjects: { mira: "person", "bay-1": "bay", "yard-door": "door" }, signals: { phone: "mira", meter: "bay-1", rail: "yard-door" } });
const span = { from: 0, to: min(600) };
const [phone, meter, rail] = [is("phone", 1), is("meter", 1), is("rail", 1)];

function found(when: Expression, histories: Readonly<Record<string, string>>, outside: string, full = outside, restMs = 0): NearMiss[] {
  const parts = evaluateParts(when, (ref) => ({ timeline: line(histories[ref]!, span), barriers: [] }), 0);
  const firings = withRests(rises(collapse(timelineOfPart(when, parts))), restMs).filter((rise) => rise.restedAfter === null).map((rise) => rise.at);
  return nearMisses(ruleOf(when, is("mira", 1), { restMs }), site, marginOf(when, parts), wrongTime(line(outside, span), line(full, span), 0), firings);
}
const told = (misses: readonly NearMiss[]): string[] => misses.map(({ from, to, inTheWay, verified }) => `${from / min(1)}-${to / min(1)} ${inTheWay.join("+")}${verified ? "" : " (unverified)"}`);

describe("near misses", () => {
  it("are the stretches at a margin of 1 while firing would have been wrong, with what stood in the way", () => {
    const misses = found(allOf(phone, meter, rail), { phone: "0 off", meter: "0 off, 100 on, 200 off", rail: "0 off, 50 on" }, "0 off, 150 on");
    expect(told(misses)).toEqual(["100-150 phone"]);
    expect(misses[0]?.why).toBe("It would have fired had it read: phone is here.");
  });

  it("run on while another signal takes over standing in the way", () => {
    const misses = found(allOf(phone, meter), { phone: "0 off, 100 on", meter: "0 on, 100 off" }, "0 off");
    expect(told(misses)).toEqual(["0-600 meter+phone"]);
    expect(misses[0]?.why).toBe("It would have fired had it read: phone is here; or meter is occupied.");
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
