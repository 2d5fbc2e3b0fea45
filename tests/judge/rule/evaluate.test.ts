import { describe, expect, it } from "vitest";
import { evaluateParts, type Resolved } from "../../../src/judge/rule/evaluate.js";
import type { Expression } from "../../../src/site/expression.js";
import { allOf, anyOf, is, line, min, no, quorum, truthOf, turned } from "../small-site.js";

const histories: Readonly<Record<string, Resolved>> = {
  wall: { timeline: line("0 off, 10 on, 30 off"), barriers: [] },
  overhead: { timeline: line("0 off, 12 on, 20 ?, 30 off"), barriers: [] },
  phone: { timeline: line("0 off, 5 ?, 6 on, 40 off"), barriers: [] },
  barred: { timeline: line("0 off, 5 ?, 6 on"), barriers: [{ from: min(5), to: min(6) }] },
};

function truth(expression: Expression, bridgeMinutes = 0): unknown {
  return truthOf(expression, (ref) => histories[ref]!, min(bridgeMinutes));
}

describe("an expression over time", () => {
  it("says that a signal is on, and that it is off", () => {
    expect(truth(is("wall", 1))).toEqual(line("0 off, 10 on, 30 off"));
    expect(truth(is("wall", 0))).toEqual(line("0 on, 10 off, 30 on"));
  });

  it("asks a state to have lasted", () => {
    expect(truth(is("wall", 1, { heldMs: min(5) }))).toEqual(line("0 off, 15 on, 30 off"));
  });

  it("asks an off state to have lasted, not the on state to have been interrupted", () => {
    expect(truth(is("wall", 0, { heldMs: min(5) }))).toEqual(line("0 ?, 5 on, 10 off, 35 on"));
  });

  it("asks a state to have been at some instant of a window", () => {
    expect(truth(is("wall", 1, { recentlyMs: min(5) }))).toEqual(line("0 ?, 5 off, 10 on, 35 off"));
  });

  it("keeps unknown unknown in all, any, at least and not", () => {
    expect(truth(allOf(is("wall", 1), is("overhead", 1)))).toEqual(line("0 off, 12 on, 20 ?, 30 off"));
    expect(truth(anyOf(is("wall", 0), is("overhead", 1)))).toEqual(line("0 on, 10 off, 12 on, 20 ?, 30 on"));
    expect(truth(quorum(2, is("wall", 1), is("overhead", 1), is("phone", 1)))).toEqual(line("0 off, 10 on, 30 off"));
    expect(truth(no(is("overhead", 1)))).toEqual(line("0 on, 12 off, 20 ?, 30 on"));
  });

  it("believes a turn over a gap only as long as the bridge, and never over a restart", () => {
    expect(truth(turned("phone", 1, 3))).toEqual(line("0 ?, 3 off, 5 ?, 9 off"));
    expect(truth(turned("phone", 1, 3), 1)).toEqual(line("0 ?, 3 off, 5 ?, 6 on, 9 off"));
    expect(truth(turned("barred", 1, 3), 1)).toEqual(line("0 ?, 3 off, 5 ?, 9 off"));
  });

  it("keeps the timeline of every part", () => {
    const part = is("wall", 1);
    const whole = no(part);
    const parts = evaluateParts(whole, (ref) => histories[ref]!, 0);
    expect([...parts.keys()]).toEqual([part, whole]);
    expect(parts.get(part)).toEqual(histories["wall"]!.timeline);
  });

  it("passes on what the resolver says of an unknown name", () => {
    const strict = (): Resolved => {
      throw new RangeError("no such signal");
    };
    expect(() => truthOf(is("ghost", 1), strict)).toThrow("no such signal");
  });
});
