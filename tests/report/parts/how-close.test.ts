import { render } from "preact-render-to-string";
import { h } from "preact";
import { describe, expect, it } from "vitest";
import type { Findings } from "../../../src/result/findings.js";
import type { Drawing } from "../../../src/report/charts/drawing.js";
import { HowClose } from "../../../src/report/parts/how-close.js";
import { Clock } from "../../../src/report/parts/local-time.js";
import { localClock } from "../../../src/report/local-time.js";
import { rowsAt, whole } from "../../../src/report/traced.js";
import { exampleFindings } from "../example-findings.js";
import type { RuleFinding } from "../../../src/result/rules.js";

const [rule] = exampleFindings.rules;
const clock = localClock("Europe/London");
const drawing = { wide: "<svg></svg>", narrow: "<svg></svg>" };
const pageOf = (findings: Findings, margins: (Drawing | null)[]): string => render(h(Clock.Provider, { value: clock }, h(HowClose, { rule: rowsAt(whole(findings), "rules")[0]!, drawings: { margins, nearMisses: [] } })));
const textOf = (findings: Findings): string => pageOf(findings, [drawing]).replace(/<[^>]*>/g, "").replace(/&quot;/g, '"');
const text = (parts: Partial<RuleFinding>): string => textOf({ ...exampleFindings, rules: [{ ...rule!, ...parts }] });

describe("how close a rule came", () => {
  it("says in words what the strip shows", () => {
    expect(text({})).toContain("In words: condition held for 18 min, 1 away for 1 day 9 h, 2 away for 12 days 13 h, 3 away for 8 days 18 h.");
    expect(text({ margin: { ...rule!.margin, exact: false } })).toContain("more than one away means at least so many");
  });

  it("tells each near miss with what stood in the way and whether anybody vouches for it", () => {
    const page = text({});
    expect(page).toContain("2 times one signal alone stood between this rule and a wrong firing; for 1 of them a witness outside the rule");
    expect(page).toContain("It would have fired had it read: phone-mira turned here within 10 min.");
    expect(page).toContain("Sun 4 Oct 2026, 10:12:00");
  });

  it("names what would be enough: by structure, in practice, by falling silent; with what to expect and what is assumed", () => {
    const page = text({});
    for (const words of [
      "board-a and phone-mira together",
      "phone-mira alone",
      "Enough at times, the rest holding anyway: phone-mira alone, and 1 more",
      "each signal by itself: not known how often these lie: phone-mira; with shared causes",
      "each signal by itself: 0.020, up to 0.070; with shared causes: 0.023, up to 0.081",
      rule!.cutSets.assumes,
    ]) {
      expect(page).toContain(words);
    }
  });

  it("says that nothing would be enough, and that nobody could tell", () => {
    const none = { upToSize: 4, count: 0, sets: [] };
    const page = text({ cutSets: { ...rule!.cutSets, firing: none, failing: none, inPractice: { ...rule!.cutSets.inPractice, ...none, upToSize: 2 } } });
    expect(page).toContain("no 4 signals or shared causes lying together would be enough");
    expect(page).toContain("no 2 of them would have been enough");
    const blind = pageOf({ ...exampleFindings, rules: [rule!] }, [null]);
    expect(blind).toContain("Nobody could tell of any time");
  });
});
