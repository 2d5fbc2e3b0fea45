import fc from "fast-check";
import { expect, it } from "vitest";
import type { Expression } from "../../src/site/expression.js";
import { parseFurtherRules } from "../../src/site/further-rules.js";
import { parseSite } from "../../src/site/parse.js";
import { ruleText } from "../../src/site/rule-text.js";

const siteText = `site: Otter Cottage
timezone: Europe/London
sources: { log: { files: log.csv, time: { column: at, written: iso }, signal: what, value: says } }
bays: { bay: {} }
doors: { "no": {} }
people: { "ida, of No. 3": {} }
signals:
  wall: { on: bay, source: log, channel: wall, kind: flag, occupied: ["1"], empty: ["0"] }
  "on": { on: "no", source: log, channel: rail, kind: contact, open: [open], closed: [closed] }
  "ida's: phone": { on: "ida, of No. 3", source: log, channel: phone, kind: phone, here: [in], away: [out] }
`;
const site = parseSite(siteText, "site.yaml", ".");

const durationMs = fc.constantFrom(1_500, 20_000, 150_000, 5_400_000);
const conditionOf = (names: readonly string[]): fc.Arbitrary<Expression> =>
  fc.letrec<{ whole: Expression }>((tie) => ({
    whole: fc.oneof(
      { depthSize: "small" },
      fc.record({ op: fc.constant("is" as const), ref: fc.constantFrom(...names), state: fc.constantFrom(0 as const, 1 as const), heldMs: fc.constant(null), recentlyMs: fc.option(durationMs) }),
      fc.record({ op: fc.constant("is" as const), ref: fc.constantFrom(...names), state: fc.constantFrom(0 as const, 1 as const), heldMs: durationMs, recentlyMs: fc.constant(null) }),
      fc.record({ op: fc.constant("turned" as const), ref: fc.constantFrom(...names), to: fc.constantFrom(0 as const, 1 as const), withinMs: durationMs }),
      fc.record({ op: fc.constantFrom("all" as const, "any" as const), of: fc.array(tie("whole"), { minLength: 2, maxLength: 3 }) }),
      fc.record({ op: fc.constant("atLeast" as const), count: fc.constant(2), of: fc.array(tie("whole"), { minLength: 2, maxLength: 3 }) }),
      fc.record({ op: fc.constant("not" as const), of: tie("whole") }),
    ),
  })).whole;

it("is read again as the same rule, whatever names and times it has", () => {
  fc.assert(
    fc.property(conditionOf(["wall", "on", "ida's: phone"]), fc.constantFrom("plain", "a: b", "yes"), (when, name) => {
      const rightWhen: Expression = { op: "turned", ref: "ida, of No. 3", to: 1, withinMs: 900_000 };
      const text = `rules:\n${ruleText({ name, act: "unlock", when, rightWhen, rightWhenIsDefault: false, restMs: 90_000, line: null }, site)}`;
      let read;
      try {
        [read] = parseFurtherRules(text, "further.yaml", site, siteText);
      } catch (error) {
        // A rule that can never be on is refused, as it would be in a site file.
        expect(JSON.stringify(error)).toContain("rule-never-fires");
        return;
      }
      expect(read).toMatchObject({ name, act: "unlock", when, rightWhen, restMs: 90_000 });
    }),
    { numRuns: 200 },
  );
});
