import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { NO_FINDING, PRIOR_ERROR_SHARE, vote, type Voter } from "../../src/reference/vote.js";
import type { TruthState } from "../../src/timeline/timeline.js";

const alone = (id: string): Voter => ({ id, shares: [] });
const on = (id: string, ...shares: string[]): Voter => ({ id, shares });

describe("a vote", () => {
  test("of one voice wins, with the prior probability and one witness behind it", () => {
    const finding = vote([alone("rail")], [1]);
    expect(finding).toMatchObject({ state: 1, basis: "one", vouchers: ["rail"] });
    expect(finding.probability).toBeCloseTo(1 - PRIOR_ERROR_SHARE, 12);
  });

  test("of two independent voices is surer than either: 0.95² against 0.05²", () => {
    const finding = vote([alone("rail"), alone("arm")], [0, 0]);
    expect(finding).toMatchObject({ state: 0, basis: "several", vouchers: ["rail", "arm"] });
    expect(finding.probability).toBeCloseTo(0.95 ** 2 / (0.95 ** 2 + 0.05 ** 2), 12);
  });

  test("of two against one is as sure as one alone, and only the winners vouch", () => {
    const finding = vote([alone("rail"), alone("arm"), alone("lid")], [1, 0, 1]);
    expect(finding).toMatchObject({ state: 1, basis: "several", vouchers: ["rail", "lid"] });
    expect(finding.probability).toBeCloseTo(0.95, 12);
  });

  test("goes to nobody when it is a tie, and when nobody knows", () => {
    expect(vote([alone("rail"), alone("arm")], [1, 0])).toEqual(NO_FINDING);
    expect(vote([alone("rail"), alone("arm")], [2, 2])).toEqual(NO_FINDING);
    expect(vote([], [])).toEqual(NO_FINDING);
    expect(NO_FINDING).toEqual({ state: 2, probability: 0.5, basis: "none", vouchers: [] });
  });

  test("gives a voice to the known only: unknown abstains", () => {
    expect(vote([alone("rail"), alone("arm")], [2, 1])).toEqual(vote([alone("arm")], [1]));
  });
});

describe("signals with a shared cause", () => {
  const board = [on("rail", "board"), on("arm", "board"), on("lid", "board")];

  test("have one voice between them: three on one board do not outvote one that stands alone", () => {
    expect(vote([...board, alone("beam")], [1, 1, 1, 0])).toEqual(NO_FINDING);
    expect(vote(board, [1, 1, 1]).probability).toBeCloseTo(0.95, 12);
  });

  test("are one witness, however many agree", () => {
    expect(vote(board, [1, 1, 1])).toMatchObject({ basis: "one", vouchers: ["rail", "arm", "lid"] });
    expect(vote([...board, alone("beam")], [1, 1, 1, 1])).toMatchObject({ basis: "several" });
  });

  test("share it among those that speak: one that does not know takes nothing away", () => {
    expect(vote(board, [1, 2, 2]).probability).toBeCloseTo(0.95, 12);
  });

  test("are several witnesses when two of them share nothing, though each shares something with a third", () => {
    expect(vote([on("rail", "board"), on("arm", "board", "supply"), on("lid", "supply")], [1, 1, 1])).toMatchObject({ basis: "several" });
  });

  test("need two independent witnesses on the winning side, not one on each", () => {
    expect(vote([...board, alone("beam")], [1, 2, 2, 0])).toEqual(NO_FINDING);
    expect(vote([...board, alone("beam"), alone("eye")], [1, 1, 1, 0, 1])).toMatchObject({ state: 1, basis: "several", vouchers: ["rail", "arm", "lid", "eye"] });
    expect(vote(board, [1, 1, 0])).toMatchObject({ state: 1, basis: "one" });
  });

  test("stand behind nothing when they contradict each other, though one of them agrees", () => {
    const hub = [on("beam", "hub"), on("eye", "hub"), on("mat", "hub")];
    expect(vote([...board, ...hub], [1, 1, 1, 1, 0, 2])).toMatchObject({ state: 1, basis: "one", vouchers: ["rail", "arm", "lid", "beam"] });
    expect(vote([...board, ...hub], [1, 1, 1, 1, 1, 0])).toMatchObject({ state: 1, basis: "several" });
  });
});

describe("a vote, by property", () => {
  const voters = fc
    .array(fc.subarray(["a", "b", "c"]), { minLength: 1, maxLength: 6 })
    .map((all) => all.map((shares, i): Voter => ({ id: `s${i}`, shares })));
  const states = fc.array(fc.constantFrom<TruthState>(0, 1, 2), { minLength: 6, maxLength: 6 });
  const flipped = (state: TruthState): TruthState => (state === 2 ? 2 : state === 1 ? 0 : 1);

  test("does not favour on over off", () => {
    fc.assert(
      fc.property(voters, states, (who, all) => {
        const said = all.slice(0, who.length);
        const finding = vote(who, said);
        const mirrored = vote(who, said.map(flipped));
        expect(mirrored).toEqual({ ...finding, state: flipped(finding.state) });
      }),
      { numRuns: 500 },
    );
  });

  test("is never surer than the number of independent voices allows, nor less sure than a coin", () => {
    fc.assert(
      fc.property(voters, states, (who, all) => {
        const said = all.slice(0, who.length);
        const finding = vote(who, said);
        const known = said.filter((state) => state !== 2).length;
        const odds = (0.95 / 0.05) ** known;
        expect(finding.probability).toBeGreaterThanOrEqual(0.5);
        expect(finding.probability).toBeLessThanOrEqual(odds / (1 + odds) + 1e-12);
        expect(finding.state === 2).toBe(finding.basis === "none");
        expect(finding.vouchers).toEqual(finding.state === 2 ? [] : who.filter((_, i) => said[i] === finding.state).map((one) => one.id));
      }),
      { numRuns: 500 },
    );
  });
});
