import { h } from "preact";
import { render } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import { dayClock, localClock } from "../../../src/report/local-time.js";
import { Clock } from "../../../src/report/parts/local-time.js";
import { hasRoads, Roads } from "../../../src/report/parts/roads.js";
import { rowsAt, whole } from "../../../src/report/traced.js";
import { exampleFindings } from "../example-findings.js";
import { exampleCumulated } from "../example-months.js";
import { exampleClosedDesign, exampleDesign, exampleFigures, exampleLockGap, exampleNoGap, exampleRoads, exampleTwoEvents } from "../example-roads.js";
import { redactFindings } from "../../../src/result/redact.js";
import { seenText } from "../traced-numbers.js";
import type { RuleFinding } from "../../../src/result/rules.js";

const van: RuleFinding = exampleFindings.rules[1]!;
const drawing = { wide: "<svg></svg>", narrow: "<svg></svg>" };
const htmlOf = (parts: Partial<RuleFinding>, drawn: typeof drawing | null = drawing): string => {
  const findings = { ...exampleFindings, rules: [{ ...van, ...parts }] };
  return render(h(Clock.Provider, { value: localClock("Europe/London") }, h(Roads, { rule: rowsAt(whole(findings), "rules")[0]!, drawing: drawn })));
};
const text = (parts: Partial<RuleFinding> = {}, drawn: typeof drawing | null = drawing): string => seenText(htmlOf(parts, drawn)).replace(/[\s\u00a0]+/g, " ");

describe("what you can claim today", () => {
  it("names what each road supports now, and why one supports nothing yet", () => {
    expect(text()).toContain("Today you can claim: by counting at most 126 wrong a year; your limit is 0.5.");
    const closed = { ...exampleDesign, conditions: [{ code: "cover" as const, holds: false, text: "right_when ends too soon." }] };
    expect(text({ design: closed })).toContain("By design nothing can be claimed yet. right_when ends too soon.");
    expect(text({ claims: [{ moreMonths: 0, byCounting: 10.24, byDesign: 0.7385 }] })).toContain("by design at most 0.74 wrong a year, by counting at most 11 wrong a year; your limit");
  });

  it("has no picture where nothing can be claimed, but sentences", () => {
    const nothing = { claims: [{ moreMonths: 0, byCounting: null, byDesign: null }], design: exampleClosedDesign };
    expect(htmlOf(nothing, null)).not.toContain("<figure");
    expect(text(nothing, null)).toContain("By counting nothing can be claimed. At some hours of the day nobody could confirm a firing. ".trim());
    expect(text(nothing, null)).toContain("Its condition about vehicles can stay true for hours.");
  });

  it("is absent for rules that were not asked about", () => {
    const none = { claims: [], design: null, gap: null, twoEvents: [], cumulated: null };
    expect(hasRoads({ ...van, ...none })).toBe(false);
    expect(hasRoads({ ...van, ...none, gap: exampleNoGap })).toBe(true);
  });

  it("does without words that a household does not know", () => {
    expect(text()).not.toMatch(/witness|\bbounds?\b|percentile/i);
  });
});

describe("the two roads", () => {
  it("count in one line, over the days in which somebody could tell", () => {
    expect(text({ evidence: { ...van.evidence, yearsConfirmed: 20 / 365.25 } })).toContain("It would have unlocked wrongly 0 times in 20 confirmed days. 4 firings came when nobody could tell; they count neither");
    expect(text({ evidence: { ...van.evidence, yearsConfirmed: 0 } })).toContain("nobody could confirm a firing, so there is nothing to count over");
    expect(text({ cumulated: exampleCumulated })).toContain("It would have unlocked wrongly 3 times in 90 confirmed days. 6 firings");
  });

  it("mark each condition by a word too", () => {
    const failing = { ...exampleDesign, conditions: [{ code: "lags" as const, holds: false, text: "How late phone-tom tells was not measured." }, ...exampleDesign.conditions] };
    expect(text({ design: failing })).toContain("fails: How late phone-tom tells was not measured.");
    expect(text()).toContain("holds: 92 days over 3 months were seen.");
  });

  it("give the number with its parts, rounded up, and only as an if where a condition fails", () => {
    const number = "at most 0.42 wrong a year = by chance 0.31 + by a common cause 0.12, each rounded up.";
    expect(text()).toContain(`At${number.slice(2)}`);
    const failing = { ...exampleDesign, figures: { ...exampleFigures, conditions: [{ code: "months" as const, holds: false, text: "Too few days." }] } };
    expect(text({ design: failing })).toContain(`If all of this held, it would be ${number}`);
    expect(text({ design: failing })).toContain("Your limit would hold then while at most 1 in 258 of");
    expect(text()).not.toContain("If all of this held");
  });

  it("say what was stated, why, and up to where the limit holds", () => {
    const page = text();
    expect(page).toContain("Stated in your site file: at most 1 in 50 of the rarer kind of false report also comes with one of the other kind, because meters and phones share no power.");
    expect(page).toContain("Stated too: the two kinds share no hour of the day, because the meters fail in the sun, the phones at night.");
    expect(page).toContain("Your limit holds while at most 1 in 258 of the false reports about vehicles also come with one about people.");
    expect(page).not.toContain("How to state it");
    expect(text({ cumulated: exampleCumulated })).toContain("at most 1 in 258 of the false reports about vehicles also come with one about people.");
  });

  it("say what was assumed where nothing is stated, and how to state it", () => {
    const silent = { ...exampleDesign, commonShare: 0.1, commonShareBecause: null, noSharedHoursBecause: null };
    expect(text({ design: silent })).toContain("Assumed, as your site file states nothing: 1 in 10 of");
    expect(text({ design: silent })).toContain('stated: { common_cause: { at_most: 1 in 258, because: "…" } }');
    expect(text({ design: silent })).not.toContain("Stated too");
    const overLimit = { ...silent, figures: { ...exampleFigures, breakEven: null } };
    expect(text({ design: overLimit })).toContain("Chance alone already takes up your limit");
  });

  it("list what was tried on purpose", () => {
    expect(text()).toContain("board-a failed 20 times; both kinds reported falsely 0 times, so at most 14 % of its failures do that.");
    expect(text({ design: { ...exampleDesign, tests: [] } })).not.toContain("Tried on purpose");
  });

  it("leave out numbers and assumptions of a rule without two parts", () => {
    expect(text({ design: exampleClosedDesign })).not.toMatch(/Assumed|At most \d/);
  });
});

describe("with every sensor truthful", () => {
  it("there is no gap up to these lags, beside those measured", () => {
    expect(text()).toContain("No gap: it cannot unlock wrongly while every sensor tells the truth in time.");
    expect(text()).toMatch(/distance\s*bay-2-overhead\s*17 min\s*34 s/);
    expect(text()).toMatch(/phone-tom\s*an hour and more\s*3 min/);
  });

  it("a rule that locks has a gap as wide as its sensors are late; others are not told so", () => {
    const scene = "It can lock wrongly although every sensor tells the truth. The smallest scene: Mira left 5 min ago;";
    const page = text({ act: "lock", gap: exampleLockGap });
    expect(page).toContain(scene);
    expect(page).toContain("The events must fall together within 4 min 30 s. That happens about 2.4 times a year, if they have nothing to do with each other. Every rule that locks has such a gap");
    expect(text({ gap: exampleLockGap })).not.toContain("Every rule that");
  });

  it("says what cannot be said, and why it was left open", () => {
    const alone = { ...exampleLockGap, scene: { ...exampleLockGap.scene!, widthSeconds: null, perYear: null } };
    expect(text({ gap: alone })).toContain("Nothing has to fall together for that. How often that comes about cannot be said.");
    expect(text({ gap: { ...exampleNoGap, searched: false, why: "Too many subjects." } })).toContain("This question is open. Too many subjects.");
    expect(text({ gap: null })).not.toContain("With every sensor truthful");
  });
});

describe("of redacted findings", () => {
  it("holds no name, whether in lists, sentences, reasons or lines for the site file", () => {
    const design = { ...exampleDesign, commonShareBecause: "board-a feeds bay-2-overhead only" };
    const twoEvents = exampleTwoEvents.map((one) => ({ ...one, rightWhen: "{ subject: mira, turned: here, within: 1 min }" }));
    const findings = redactFindings({ ...exampleFindings, rules: exampleFindings.rules.map((rule, index) => (index === 1 ? { ...rule, design, twoEvents } : rule)) });
    const page = seenText(render(h(Clock.Provider, { value: dayClock }, h(Roads, { rule: rowsAt(whole(findings), "rules")[1]!, drawing: null }))));
    expect(page).toContain("right_when: { subject: person-A,");
    expect(page).toMatch(/because\s*cause-\d+ feeds signal-\d+ only/);
    expect(page).not.toMatch(/mira|\btom\b|phone-tom|board-a|bay-2|overhead/i);
  });
});

describe("right by two different events", () => {
  it("shows three, folds the rest, and the line that would tell them once", () => {
    const html = htmlOf({});
    const [open = "", folded = ""] = html.slice(html.indexOf("Right by two different events")).split("<details");
    expect(open.match(/for the \d+th time/g)).toHaveLength(3);
    expect(folded.match(/for the \d+th time/g)).toHaveLength(2);
    expect(html.match(/right_when: \{ some: people, turned: here, within: 1 min \}/g)).toHaveLength(1);
  });

  it("warns of a line whose windows are too short for the road of design", () => {
    expect(text()).toContain("too short for the road of design");
    const long = exampleTwoEvents.map((one) => ({ ...one, rightWhen: "{ some: people, turned: here, within: 20 min }" }));
    expect(text({ twoEvents: long })).not.toContain("too short for the road of design");
    expect(text({ twoEvents: [{ ...exampleTwoEvents[0]!, rightWhen: null }] })).not.toContain("right_when:");
    expect(text({ ...exampleRoads, twoEvents: [] })).not.toContain("Right by two");
  });
});
