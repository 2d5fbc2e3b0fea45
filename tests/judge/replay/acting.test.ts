import { describe, expect, it } from "vitest";
import { servingOf } from "../../../src/judge/replay/acting.js";
import { min } from "../small-site.js";

const tolerance = { withinMs: min(15), earlyMs: 0 };
const wanted = { from: min(100), to: min(105) };
const fired = (...minutes: number[]): Parameters<typeof servingOf>[1] => ({ firings: minutes.map(min), rises: minutes.map((at) => ({ at: min(at), restedAfter: null })) });

describe("a wanted stretch of five minutes, with fifteen to act in", () => {
  it("is served by a firing while it is still wanted", () => {
    expect(servingOf(wanted, fired(104), "lock", tolerance)).toMatchObject({ outcome: "served", firingAt: min(104) });
  });

  it("is not served by one that comes when somebody is back, though it comes in time", () => {
    expect(servingOf(wanted, fired(105), "lock", tolerance)).toMatchObject({ outcome: "missed", firingAt: null });
    expect(servingOf(wanted, fired(110), "lock", tolerance)).toMatchObject({ outcome: "missed" });
  });

  it("is not served by a rise that a rest swallowed when it was no longer wanted", () => {
    const swallowed = { firings: [min(90)], rises: [{ at: min(90), restedAfter: null }, { at: min(106), restedAfter: min(90) }] };
    expect(servingOf(wanted, swallowed, "unlock", { withinMs: min(15), earlyMs: min(5) })).toMatchObject({ outcome: "missed" });
    const inTime = { firings: [min(90)], rises: [{ at: min(90), restedAfter: null }, { at: min(104), restedAfter: min(90) }] };
    expect(servingOf(wanted, inTime, "unlock", { withinMs: min(15), earlyMs: min(5) })).toMatchObject({ outcome: "served", byRest: true, firingAt: min(90) });
  });
});
