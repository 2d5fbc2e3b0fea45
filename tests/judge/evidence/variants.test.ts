import { describe, expect, it } from "vitest";
import { judgedSoFar, variantsTried } from "../../../src/judge/evidence/variants.js";
import type { RuleSpec } from "../../../src/site/site.js";
import { is, ruleOf } from "../small-site.js";

const rule = (name: string, more: Partial<RuleSpec> = {}): RuleSpec => ruleOf(is("phone-mira", 1), is("mira", 1), { name, ...more });
const digestsOf = (rules: readonly RuleSpec[]): Map<RuleSpec, string> => new Map(rules.map((one) => [one, `digest of ${one.name}`]));

describe("how many variants a rule is the best of", () => {
  it("is one for a rule chosen beforehand, however many rules the site has", () => {
    const own = [rule("front"), rule("back")];
    expect(variantsTried(own, [], digestsOf(own), []).get("unlock")).toBe(1);
  });

  it("counts every further rule of its act that was tried beside it", () => {
    const own = [rule("front")];
    const tried = [rule("a"), rule("b"), rule("c", { act: "lock" })];
    expect(variantsTried(own, tried, digestsOf([...own, ...tried]), []).get("unlock")).toBe(3);
  });

  it("remembers what earlier runs tried on the same history: the rule that won is still the best of ten", () => {
    const winner = rule("winner");
    const before = Array.from({ length: 10 }, (_, i) => ({ act: "unlock" as const, digest: i === 4 ? "digest of winner" : `other ${i}`, settings: 0 }));
    expect(variantsTried([winner], [], digestsOf([winner]), before).get("unlock")).toBe(10);
  });

  it("counts the settings swept around a rule that is no longer there, since the present one may be one of them", () => {
    const now = rule("with another hold time");
    expect(variantsTried([now], [], digestsOf([now]), [{ act: "unlock", digest: "the old one", settings: 24 }]).get("unlock")).toBe(26);
    expect(variantsTried([now], [], digestsOf([now]), [{ act: "unlock", digest: "digest of with another hold time", settings: 24 }]).get("unlock")).toBe(1);
  });

  it("is remembered by digest, once each, with the most settings", () => {
    const before = [{ act: "unlock" as const, digest: "x", settings: 24 }];
    expect(judgedSoFar([{ act: "unlock", digest: "x", settings: 0 }, { act: "lock", digest: "y", settings: 3 }], before)).toEqual([{ act: "unlock", digest: "x", settings: 24 }, { act: "lock", digest: "y", settings: 3 }]);
  });
});
