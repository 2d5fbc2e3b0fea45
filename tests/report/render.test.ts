import { createHash } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { type Findings, findingsSchema } from "../../src/result/findings.js";
import { decide } from "../../src/decide/decide.js";
import { script } from "../../src/report/script.js";
import { style } from "../../src/report/style.js";
import { renderReport } from "../../src/report/render.js";
import { withVisibleText } from "../../src/report/visible-text.js";
import { exampleFindings, exampleFleet } from "./example-findings.js";
import { emptyFindings } from "./empty-findings.js";
import { hostileNames, withNames } from "./hostile-findings.js";
import { jsonText } from "../../src/result/json-text.js";
import { isoText, verdict } from "../../src/result/values.js";

/** The example with one moment a rule: enough to hold every kind of text, and quickly drawn. */
const fewMoments: Findings = {
  ...exampleFindings,
  rules: exampleFindings.rules.map((rule) => ({ ...rule, firingList: rule.firingList.filter((firing) => firing.id === rule.moments[0]?.firing), moments: rule.moments.slice(0, 1) })),
};

/** The page without what is ours alone and the same on every page: its style and its script. */
const bare = (html: string): string => html.replace(style, "").replace(script, "");
const tagsOf = (html: string): string[] => [...html.matchAll(/<[a-zA-Z!/][^>]*>/g)].map((match) => match[0]);
/** What a page is built of: tags and the names of their attributes, without any text or value. */
const skeleton = (html: string): string => tagsOf(bare(html)).map((tag) => tag.replace(/"[^"]*"/g, "")).join("");
const textOf = (html: string): string => bare(html).replace(/<[^>]*>/g, "\n");
const attributesOf = (html: string, name: string): string[] => [...html.matchAll(new RegExp(` ${name}="([^"]*)"`, "g"))].map((match) => match[1] ?? "");
/** As preact writes a text; a `>` alone does no harm in one. */
const escaped = (text: string): string => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/"/g, "&quot;");

let html: string;
beforeAll(async () => {
  html = await renderReport(exampleFindings);
});

describe("the example findings", () => {
  it("hold by the schema", () => {
    expect(() => jsonText(findingsSchema, exampleFindings)).not.toThrow();
    expect(() => jsonText(findingsSchema, exampleFleet)).not.toThrow();
    expect(exampleFindings.rules.map((rule) => rule.verdict).sort()).toEqual([...verdict.options].sort());
  });
});

describe("what the report says", () => {
  it("puts the privacy line first, then the answer, with the caution before any rule is told of in full", () => {
    const text = textOf(html);
    const places = ["This page shows when nobody was there: keep it private.", "You can turn on “lock when all have left”. Take one off the list.", "do not enable\n", "Evidence about logs, not a safety certificate.", "Its worst moment: "].map((words) => text.indexOf(words, text.indexOf("Skip to the answer")));
    expect(places).not.toContain(-1);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    expect(html).toContain('<a href="#caution">');
  });

  it("opens the rule nearest to use and the worst, folds the others, and everything else", () => {
    expect([...html.matchAll(/<h2[^>]*>(?:<bdi[^>]*>)?([^<]*)/g)].map((match) => match[1])).toEqual(["Mend first", "unlock on arrival", "lock when all have left", "Sensors ", "A typical weekday ", "Everything else", "Before you act on this"].filter((one) => one !== "Mend first" || exampleFindings.mend.length > 0));
    expect(html.match(/<details class="rule folded-rule"/g)).toHaveLength(1);
    expect(html).not.toMatch(/<details[^>]* open/);
  });

  it("names what has nothing to say in one line, and says nothing else of it", () => {
    expect(textOf(html)).toContain("Nothing to report: what to mend, in full, earlier months, rules that were only tried.");
    expect(html).not.toContain('id="months"');
  });

  it.each(verdict.options.map((one) => [one]))("says “%s” in words, beside a mark of post and bar", (word) => {
    expect(html).toMatch(new RegExp(`<svg class="verdict-mark"[\\s\\S]{0,500}?</svg>[\\s\\S]{0,160}?<b class="[a-z]+">${word}</b>`));
  });

  it("writes the cause into the picture of the worst moment, and says it in words beside it", () => {
    const [scene = ""] = /<svg class="scene"[\s\S]*?<\/svg>/.exec(html) ?? [];
    expect(scene).toContain(">drops out for 27 min<");
    expect(scene.replace(/<[^>]*>/g, " ").replace(/\s+/g, " ")).toContain("× unlocks 03:40");
    expect(textOf(html).replace(/\n+/g, "")).toContain("Its worst moment: unlocks, and nobody came. Thu 15 Oct 2026, 03:40:26. phone-mira had dropped out");
  });

  it("marks every firing once in each strip of its rule, the wrong ones by a cross", () => {
    const [first] = exampleFindings.rules;
    const [strip = ""] = /<svg class="month-strip small"[\s\S]*?<p class="next">/.exec(html) ?? [];
    const marks = (kind: string): string => (strip.split(`<g class="fired ${kind}">`)[1] ?? "").split("</g>")[0] ?? "";
    expect(marks("wrong").match(/<path /g)).toHaveLength(first!.firingList.filter(({ outcome }) => outcome === "wrong").length);
    expect(marks("right").match(/<circle /g)).toHaveLength(first!.firingList.filter(({ outcome }) => outcome === "right").length);
  });

  it("tells every wrong and every unverified firing with its reason, and draws the first of them", () => {
    const told = exampleFindings.rules.flatMap((rule) => rule.firingList.filter((firing) => firing.outcome !== "right"));
    const moments = html.split('<figure class="moment">').slice(1);
    expect(told.length).toBeGreaterThan(5);
    expect(moments).toHaveLength(told.length);
    for (const firing of told) {
      const moment = moments.find((one) => one.includes(`would have unlocked <time datetime="${isoText(firing.at)}"`))?.split("</figure>")[0] ?? "";
      expect(moment).toContain(firing.outcome === "wrong" ? "</svg> Wrong<" : "</svg> Unverified<");
      expect(moment).toContain(escaped(firing.why.replace(/^Wrong: /, "")));
    }
    expect(moments.filter((one) => (one.split("</figure>")[0] ?? "").includes('<div class="wide"><svg')).length).toBeGreaterThan(3);
  });

  it("marks unknown stretches with the hatching and the word", () => {
    expect(html).toContain('<pattern id="unknown-hatch"');
    expect(html).toContain('fill="url(#unknown-hatch)"');
    expect(html).toMatch(/<text[^>]*>unknown<\/text>/);
  });

  it("says plainly that an excerpt is missing", async () => {
    const [first, ...rest] = exampleFindings.rules;
    const page = await renderReport({ ...exampleFindings, rules: [{ ...first!, moments: first!.moments.slice(1) }, ...rest] });
    expect(page.match(/No excerpt was kept of this moment/g)).toHaveLength(1);
  });

  it("folds what is much, and says what it leaves out", async () => {
    const [first] = exampleFindings.rules;
    const many = Array.from({ length: 9 }, (_, index) => ({ ...first!.firingList.find((firing) => firing.outcome === "wrong")!, id: `wrong-${index}` }));
    const page = await renderReport({ ...exampleFindings, rules: [{ ...first!, firingList: many, moments: [] }] });
    expect(page).toContain("2 more wrong firings");
    expect(page.match(/<figure class="moment">/g)).toHaveLength(6);
    expect(page).toContain("3 more are not shown here, to keep this page small; firings.csv has them all.");
  });

  it("writes the local time with its offset in the hour that comes twice", () => {
    expect(textOf(html)).toContain("Sun 25 Oct 2026, 01:41:05 (UTC+1)");
  });

  it("gives every figure its interval and its count", () => {
    const figures = [...html.matchAll(/<data class="figure-text"[^>]*>([\s\S]*?)<\/data>/g)].map((match) => textOf(match[1] ?? "").replace(/\n+/g, ""));
    expect(figures.length).toBeGreaterThan(60);
    for (const figure of figures) expect(figure).toMatch(/^(no value: .+|.+ \(.+\)), n\u00a0=\u00a0[\d,]+/);
  });

  it("says why a value is missing and never shows a 0 for it", () => {
    const row = html.slice(html.indexOf("bay-2-floor", html.indexOf("signals-agreement"))).split("</tr>")[0] ?? "";
    expect(row.match(/no value/g)).toHaveLength(5);
    expect(row).toContain("no other witness spoke while it did");
    expect(row).not.toMatch(/<b>0/);
  });

  it("says that signals on one board are not independent witnesses, once a pair", () => {
    expect(html.match(/These two are not independent witnesses/g)).toHaveLength(2);
  });

  it("draws a bay that stands out by shape and word", async () => {
    const page = await renderReport(exampleFleet);
    expect(page).toMatch(/<text[^>]*>stands out<\/text>/);
    expect(textOf(page)).toContain("1 of 5 stands out");
  });

  it("says loudly when the ledger does not add up", async () => {
    const [first, ...rest] = exampleFindings.ledger;
    const page = await renderReport({ ...exampleFindings, ledger: [{ ...first!, accepted: 1 }, ...rest] });
    expect(textOf(page)).toContain("The ledger does not add up for 1 file.");
    expect(textOf(html)).toContain("Every one of 178,652 rows is accounted for");
  });

  it("is the same to the byte for the same findings", async () => {
    expect(await renderReport(structuredClone(exampleFindings))).toBe(html);
  });

  it("leaves the findings as they were", async () => {
    const before = structuredClone(exampleFindings);
    await renderReport(exampleFindings);
    expect(exampleFindings).toEqual(before);
  });
});

describe("a site with nothing in it", () => {
  it("keeps the parts whose absence would be misread, and says there what there is not", async () => {
    const page = await renderReport(emptyFindings);
    const text = textOf(page);
    expect([...page.matchAll(/<div class="fold-body" id="([^"]*)"/g)].map((match) => match[1])).toEqual(["ledger", "method"]);
    for (const words of ["There is no rule to decide on", "No file was read", "There is no diary", "not a safety certificate", "Nothing to report: notes on the data, questions"]) expect(text).toContain(words);
    expect(text).not.toMatch(/NaN|Infinity|undefined|null/);
  });

  it("with rules that never fired and were never wanted says that too", async () => {
    const [first] = exampleFindings.rules;
    const none = { value: null, low: null, high: null, count: 0, why: "nothing was counted" };
    const never: Findings = {
      ...emptyFindings,
      rules: [
        {
          ...first!,
          reasons: [],
          firings: { count: 0, right: 0, wrong: 0, unverified: 0 },
          wanted: { count: 0, served: 0, late: 0, missed: 0, verified: 0, verifiedFailed: 0 },
          wrongPerYear: { unverifiedAsRight: { ...none, unit: "per year" }, unverifiedAsWrong: { ...none, unit: "per year" }, limit: null },
          missedShare: { unverifiedAsServed: { ...none, unit: "share" }, unverifiedAsMissed: { ...none, unit: "share" }, limit: null },
          delay: { median: { ...none, unit: "seconds" }, p90: { ...none, unit: "seconds" } },
          firingList: [],
          wantedList: [],
          moments: [],
        },
      ],
    };
    const page = await renderReport({ ...never, decision: decide(never, { siteFile: "site.yaml", diary: [] }) });
    const text = textOf(page);
    expect(text).toContain("It never acted.");
    expect(text).toContain("No reasons were recorded.");
    expect(page).not.toContain('id="rule-1-firings"');
    expect(page).not.toContain('id="rule-1-wanted"');
    expect(text).not.toMatch(/NaN|Infinity|undefined/);
  });
});

describe("what the report asks for and runs", () => {
  it("has one script of our own, no handler, no inline style attribute, and no address but its own fragments", () => {
    expect(html.split("<script")).toHaveLength(2);
    expect(html).toContain(`<script>${script}</script>`);
    expect(script).not.toMatch(/innerHTML|outerHTML|insertAdjacent|document\.write|eval|Function\(|fetch|XMLHttp|WebSocket|import|location|cookie|storage/i);
    for (const tag of tagsOf(bare(html).replace("<script></script>", ""))) {
      expect(tag).not.toMatch(/^<(?:script|img|iframe|object|embed|link|base|form|input|video|audio|image|use|foreignObject)\b/i);
      expect(tag).not.toMatch(/\s(?:on[a-z]+|style|src|srcset|action|formaction|poster|background|ping|cite|data)=/i);
      expect(tag.replace("http-equiv", "")).not.toMatch(/https?:|\/\/|javascript:|data:/i);
    }
    expect(attributesOf(bare(html), "(?:xlink:)?href").every((target) => target.startsWith("#"))).toBe(true);
    expect([...html.matchAll(/url\(([^)]*)\)/g)].every((match) => match[1]?.startsWith("#"))).toBe(true);
    expect(html).not.toMatch(/@import|@font-face/);
  });

  it("has a policy that lets nothing in but the one style and the one script, by their hashes", () => {
    const [policy = ""] = attributesOf(html, "content").filter((content) => content.includes("default-src"));
    const styles = [...html.matchAll(/<style>([\s\S]*?)<\/style>/g)].map((match) => match[1] ?? "");
    expect(styles).toHaveLength(1);
    const hash = (text: string): string => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
    expect(policy).toBe(`default-src 'none'; style-src ${hash(styles[0]!)}; script-src ${hash(script)}; base-uri 'none'; form-action 'none'`);
    expect(html.indexOf("Content-Security-Policy")).toBeLessThan(html.indexOf("<style>"));
  });

  it("asks not to be indexed and sends no referrer", () => {
    expect(html).toContain('<meta name="robots" content="noindex"');
    expect(html).toContain('<meta name="referrer" content="no-referrer"');
  });
});

describe("how the report is built", () => {
  it("has ids that are unique and references that exist", () => {
    const ids = attributesOf(html, "id");
    expect(new Set(ids).size).toBe(ids.length);
    for (const target of attributesOf(html, "href").map((href) => href.slice(1))) expect(ids).toContain(target);
    for (const target of attributesOf(html, "aria-labelledby")) expect(ids).toContain(target);
    for (const [, target] of html.matchAll(/url\(#([^)]*)\)/g)) expect(ids).toContain(target);
  });

  it("steps down its headings one level at a time", () => {
    const levels = [...html.matchAll(/<h([1-6])/g)].map((match) => Number(match[1]));
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    levels.reduce((above, level) => (expect(level).toBeLessThanOrEqual(above + 1), level), 0);
  });

  it("gives every table a caption, scopes, and a box that names itself where it must scroll", () => {
    const tables = html.match(/<table[\s\S]*?<\/table>/g) ?? [];
    expect(tables.length).toBeGreaterThan(10);
    for (const table of tables) {
      expect(table).toMatch(/<caption>/);
      expect((table.match(/<th\b/g) ?? []).length).toBe((table.match(/<th scope="(?:col|row)"/g) ?? []).length);
    }
    expect(html.match(/<div class="scroll" data-label="[^"]+"><table/g)).toHaveLength(tables.length);
  });
});

describe("names that would do harm", () => {
  it.each(Object.entries(hostileNames))("stay text in every place: %s", async (_, name) => {
    const page = await renderReport(withNames(fewMoments, name));
    // A label is left out where it would not fit: the harmless name is as long as the harmful one is drawn.
    const tame = await renderReport(withNames(fewMoments, "y".repeat(withVisibleText(name).length)));
    expect(skeleton(page)).toBe(skeleton(tame));
    expect(page).not.toMatch(/[\u202a-\u202e\u2066-\u2069\u200b\u2060\ufeff]/);
    expect(bare(page).replace("<script></script>", "")).not.toMatch(/<(?:script|img)\b|\p{Surrogate}/u);
  });

  it("show a turned-around name as it is stored", async () => {
    const page = await renderReport(withNames(exampleFindings, "\u202egnp"));
    expect(page).toContain("Heron Lane‹U+202E›gnp");
  });

  it("cannot make the report fail through the time zone or a unit", async () => {
    const zone = "<script>Nowhere/Land</script>";
    const page = await renderReport({ ...exampleFindings, site: { ...exampleFindings.site, timeZone: zone } });
    expect(bare(page).replace("<script></script>", "")).not.toContain("<script");
    expect(textOf(page)).toContain("UTC, because");
    const [first, ...rest] = exampleFindings.rules;
    const odd = await renderReport({ ...exampleFindings, rules: [{ ...first!, reasons: first!.reasons.map((reason) => ({ ...reason, unit: `per <img src=x>` })) }, ...rest] });
    expect(odd).toContain("per &lt;img src=x");
  });
});
