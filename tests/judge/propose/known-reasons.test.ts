import { describe, expect, it } from "vitest";
import type { Proposal, RuleProposals } from "../../../src/result/proposals.js";
import { auditBeside } from "../../study/proposals/audit.js";
import { anyPhone, LIMITS, onePhone, phonesAlone, slowPhone, sound } from "../../study/proposals/worlds.js";
import { monthSpan } from "../../study/verdict/limits.js";
import type { World } from "../../study/verdict/world.js";

async function proposalsFor(world: World): Promise<RuleProposals> {
  const { findings } = await auditBeside(world, LIMITS, "");
  expect(findings.proposals).toHaveLength(1);
  const [found] = findings.proposals;
  await expectSound(world, found!);
  return found!;
}

/** Whatever is proposed is read again as that rule, and nothing alone can make it act. */
async function expectSound(world: World, { proposals }: RuleProposals): Promise<void> {
  if (proposals.length === 0) return;
  const { findings, tried } = await auditBeside(world, LIMITS, proposals.map(({ yaml }) => yaml).join(""));
  expect(tried).toHaveLength(proposals.length);
  findings.tried.forEach(({ condition, singlePoints }, i) => {
    expect(condition).toBe(proposals[i]!.condition);
    expect(singlePoints).toEqual({ signals: [], causes: [] });
  });
}

const bad = ({ wrong, looksWrong, late, missed }: Proposal["heldOut"]): readonly number[] => [wrong + looksWrong, late + missed];

describe("a rule that is bad for a known reason", () => {
  it("forgets the gate before a slow phone is heard: longer windows", async () => {
    const { present, proposals } = await proposalsFor(slowPhone("slow", monthSpan(0)));
    const [first] = proposals;
    expect(present.heldOut.missed).toBeGreaterThan(10);
    expect(bad(first!.heldOut)).toEqual([0, 0]);
    expect(first!.reason).toBe("longer windows");
    expect(first!.why).toMatch(/^The present rule looks back too short a time, 2 min: at (all \d+|\d+ of the \d+) moments that it fixes gate-contact had reported up to [67] min/);
  }, 60_000);

  it("listens to the phone of one of two: it hears the other", async () => {
    const { present, proposals } = await proposalsFor(onePhone("one", monthSpan(0)));
    const [first] = proposals;
    expect(present.heldOut.missed).toBeGreaterThan(10);
    expect(bad(first!.heldOut)).toEqual([0, 0]);
    expect(first!.reason).toBe("hears more");
    expect(first!.why).toMatch(/^It also listens to (phone|tag|lamp)-ben, which reported at \d+ of the \d+ moments that it fixes\. The present rule does not\./);
  }, 60_000);

  it("believes any phone: it asks for the door too", async () => {
    const { present, proposals } = await proposalsFor(anyPhone("any", monthSpan(0)));
    const [first] = proposals;
    expect(bad(present.heldOut)[0]).toBeGreaterThan(4);
    expect(bad(first!.heldOut)).toEqual([0, bad(present.heldOut)[1]]);
    expect(first!.reason).toBe("asks for more");
  }, 60_000);
});

describe("where nothing better exists", () => {
  it("nothing is proposed for a sound rule", async () => {
    const { proposals, why } = await proposalsFor(sound("sound", monthSpan(0)));
    expect(proposals).toEqual([]);
    expect(why).toMatch(/^Nothing better was found. On the first part of the history the present rule made no mistake/);
  }, 60_000);

  it("nothing is proposed where there are phones alone, and the missing evidence is named", async () => {
    const { proposals, why } = await proposalsFor(phonesAlone("alone", monthSpan(0)));
    expect(proposals).toEqual([]);
    expect(why).toMatch(/^Nothing better was found with these sensors; a contact on the inner door, with a power supply of its own, would help: all sensors depend on phone-link\./);
  }, 60_000);
});
