import { readFile, readdir } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { daysFrom } from "../../src/result/redact-days.js";
import { nameKeys } from "../../src/result/redact-names.js";
import { redactFindings } from "../../src/result/redact.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { withTexts } from "../../src/result/visit-texts.js";
import { renderReport } from "../../src/report/render.js";
import { folderWith, listening } from "../commands/tiny-site.js";
import { exampleFindings } from "../report/example-findings.js";
import { decoded, jsonText } from "../../src/result/json-text.js";

/** Words that a report uses whatever the site is called; a name may share them without being told. */
const ordinary = new Set("lane log phone phones bay door unlock lock when all have left the van back arrival is near exports csv board hub diary side floor wall overhead rail leaf mat yard".split(" "));

/** Every text under a key that holds names, split into the parts that could give it away. */
function namesIn(findings: Findings): Set<string> {
  const names = new Set<string>();
  withTexts(findingsSchema, findings, {
    instant: (instant) => instant,
    text(text, key) {
      if (nameKeys[key] !== undefined && text !== "diary") names.add(text);
      return text;
    },
  });
  return names;
}

const partsOf = (names: Iterable<string>): string[] => [...new Set([...names].flatMap((name) => name.toLowerCase().split(/[^\p{L}\p{N}]+/u)))].filter((part) => part.length > 2 && !ordinary.has(part));

/** Those parts that stand as words of their own in a text. */
const standing = (parts: readonly string[], text: string): string[] => parts.filter((part) => new RegExp(`(?<![\\p{L}\\p{N}])${part}(?![\\p{L}\\p{N}])`, "u").test(text));

describe("redacted findings", () => {
  const redacted = redactFindings(exampleFindings);
  const text = jsonText(findingsSchema, redacted).toLowerCase();

  it("hold by the schema and say what they are", () => {
    expect(decoded(findingsSchema, JSON.parse(jsonText(findingsSchema, redacted))).error).toBeUndefined();
    expect(redacted.redacted).toBe(true);
  });

  it("hold no name of the original, whole or in part, and not its zone", () => {
    const names = namesIn(exampleFindings);
    expect(names.size).toBeGreaterThan(25);
    expect([...names].filter((name) => text.includes(`"${name.toLowerCase()}`) && name.length > 3)).toEqual([]);
    expect(standing([...partsOf(names), "europe", "london", "heron"], text)).toEqual([]);
  });

  it("hold no date of the original, and no year", () => {
    expect(/2026|2025|2027/.exec(text)).toBe(null);
    expect(/\b(?:january|october|oct|nov|sep)\b/.exec(text)).toBe(null);
  });

  it("name things consistently: what referred to a thing still does", () => {
    const signals = new Set(redacted.signals.map(({ signal }) => signal));
    expect(signals.size).toBe(exampleFindings.signals.length);
    for (const rule of redacted.rules) {
      for (const signal of rule.signals) expect(signals).toContain(signal);
      const ids = rule.firingList.map(({ id }) => id);
      for (const { firing } of rule.moments) expect(ids).toContain(firing);
    }
    expect(redacted.site.subjects.map(({ id }) => id)).toEqual(["bay-A", "bay-B", "door-A", "person-A", "person-B"]);
    expect(redacted.rules[0]?.condition).toMatch(/^\(signal-\d+ turned occupied within 2 min, or signal-\d+ turned occupied within 2 min\) and signal-\d+ is open/);
  });

  it("name the lanes of near misses as everything else, and move their instants", () => {
    const shift = redacted.period.from - exampleFindings.period.from;
    const before = exampleFindings.rules[0]!.margin.nearMisses[0]!.excerpt!;
    const after = redacted.rules[0]!.margin.nearMisses[0]!.excerpt!;
    const named = (name: string): string => redacted.signals[exampleFindings.signals.findIndex(({ signal }) => signal === name)]!.signal;
    expect(after.lanes.filter(({ role }) => role === "signal").map(({ label }) => label)).toEqual(["bay-1-wall", "phone-mira", "yard-door-rail"].map(named));
    expect(after.lanes.filter(({ role }) => role !== "signal").map(({ label }) => label)).toEqual(["person-A", redacted.rules[0]!.name]);
    expect(after.lanes.map(({ steps }) => steps.map(([at, state]) => [at - shift, state]))).toEqual(before.lanes.map(({ steps }) => steps.map(([at, state]) => [at, state])));
  });

  it("tell no first or last reading of a file beyond the period: the day a clock starts with would tell all the others", () => {
    const stray = { ...exampleFindings, ledger: exampleFindings.ledger.map((row) => ({ ...row, first: Date.parse("1970-01-01T00:00:00.000Z"), last: Date.parse("2099-01-01T00:00:00.000Z") })) };
    const redacted = redactFindings(stray);
    expect(new Set(redacted.ledger.map(({ first, last }) => `${first} ${last}`))).toEqual(new Set([`${redacted.period.from} ${redacted.period.to}`]));
    expect(redacted.ledger.length).toBeGreaterThan(0);
  });

  it("keep every distance in time and every number", () => {
    const shift = redacted.period.from - exampleFindings.period.from;
    expect(Math.abs(shift % 3_600_000)).toBe(0);
    redacted.episodes.forEach((episode, index) => expect(episode.anchor - exampleFindings.episodes[index]!.anchor).toBe(shift));
    expect(redacted.period.from).toBe(Date.parse("2001-01-01T00:00:00.000Z"));
    expect(redacted.signals.map(({ agreement }) => agreement)).toEqual(exampleFindings.signals.map(({ agreement }) => agreement));
  });

  it("are the same whenever they are made, and leave the original as it was", () => {
    const before = structuredClone(exampleFindings);
    expect(redactFindings(exampleFindings)).toEqual(redacted);
    expect(exampleFindings).toEqual(before);
  });

  it("make a report that tells days by number and says what was replaced", async () => {
    const html = await renderReport(redacted);
    expect(html).toContain("Names, places and dates were replaced. Times of day are as they were");
    expect(html).toMatch(/<time datetime="2001-01-09T14:12:40\.000Z">day 9, 14:12:40<\/time>/);
    const lower = html.toLowerCase();
    expect(standing(partsOf(namesIn(exampleFindings)), lower)).toEqual([]);
    expect(/2026|europe|london|\boct\b|\bmon \d/.exec(lower)).toBe(null);
  });
});

describe("dates in prose", () => {
  const { inText, moved } = daysFrom(Date.parse("2026-09-30T23:00:00.000Z"), "Europe/London");
  it.each([
    ["The readings end at 2026-10-07 18:03 +01:00: no more.", "The readings end at day 7 18:03: no more."],
    ["since 2026-10-07T17:03:09.000Z", "since day 7 18:03:09"],
    ["after the clock change 2026-10-31T18:03:00+00:00", "after the clock change day 31 19:03:00"],
    ["from 2026-10-01_2026-10-07", "from day 1_day 7"],
    ["in 2026-10, against 2026-09 and 2025-12", "in month 1, against month 0 and month -9"],
    ["on Sun 25 Oct 2026 and 3 November", "on day 25 and day 34"],
    ["a reading of 1970-01-01 01:00 +01:00, 2099-01-01, and 2000-01-01T00:00:00.000Z", "a reading of a day long before 01:00, a day long after, and a day long before 01:00:00"],
    ["0.5 a year in 31 days, 342 of 2000", "0.5 a year in 31 days, 342 of 2000"],
  ])("%s", (written, told) => {
    expect(inText(written)).toBe(told);
  });

  it("agree with the instants, to the day and the hour", () => {
    expect(moved(Date.parse("2026-10-07T17:03:09.000Z"))).toBe(Date.parse("2001-01-07T18:03:09.000Z"));
  });
});

describe("names that are easily missed", () => {
  const withRules = (edit: (findings: Findings) => Findings): Findings => redactFindings(edit(structuredClone(exampleFindings)));

  it("are found in any case, and in the spelling of a folder", () => {
    const { notes } = withRules((findings) => ({ ...findings, notes: ["HERON LANE, in heron-lane/2026-10, seen by Mira's phone-MIRA."] }));
    expect(notes).toEqual(["the site, in the site/month 1, seen by person-A's signal-6."]);
  });

  it("do not eat numbers where a bay is called 1", () => {
    const { site, notes } = withRules((findings) => ({
      ...findings,
      site: { ...findings.site, subjects: [...findings.site.subjects, { id: "1", class: "bay" as const, vehicle: null }] },
      notes: ["1 of 63 rows"],
    }));
    expect(site.subjects.at(-1)?.id).toBe("bay-C");
    expect(notes).toEqual(["1 of 63 rows"]);
  });

  it("are told by their number where only the month and the year are written out", () => {
    expect(daysFrom(Date.parse("2026-10-01T00:00:00.000Z"), "UTC").inText("Seen: October 2026 to November 2026. Look again by 1 February 2027.")).toBe("Seen: month 1 to month 2. Look again by a day long after.");
  });

  it("are looked for under every key: a new one must be known as names or as prose", () => {
    const keys = new Set<string>();
    const walked = (schema: unknown, key: string): void => {
      const { def } = schema as { def: { type: string; format?: string; shape?: Record<string, unknown>; element?: unknown; innerType?: unknown; items?: unknown[] } };
      if (def.type === "string") keys.add(key);
      for (const [inner, value] of Object.entries(def.shape ?? {})) walked(value, inner);
      for (const one of [def.element, def.innerType, ...(def.items ?? [])]) if (one !== undefined) walked(one, key);
    };
    walked(findingsSchema, "");
    const prose = new Set("says state by timeZone id label reason unit why kind text condition rightWhen sentence line assumes notes firing change moments words moves note clockCorrection written evidence steps siteFile notCompared months days commonShareBecause noSharedHoursBecause yaml gap rightWhenNote short on off".split(" "));
    expect([...keys].filter((key) => nameKeys[key] === undefined && !prose.has(key))).toEqual([]);
  });
});

describe("keyworthy audit --redact", () => {
  const site = `site: Otter Cottage
timezone: Europe/London
sources: { hallbox: { files: quayside-2026.csv, time: { column: at, written: iso }, signal: what, value: says } }
bays: { portside: { vehicle: roadster } }
doors: { wicket: {} }
people: { idabelle: {} }
signals:
  ceiling-eye: { on: portside, source: hallbox, channel: c, kind: distance, unit: ft, present: [3.7, 4.7], model: Zephyr9, shares: [plumboard] }
  flank-eye: { on: portside, source: hallbox, channel: f, kind: distance, unit: ft, present: [3.7, 4.7], shares: [plumboard] }
  wicket-feeler: { on: wicket, source: hallbox, channel: r, kind: contact, open: [open], closed: [closed] }
  idabelle-handset: { on: idabelle, source: hallbox, channel: h, kind: phone, here: [in], away: [out] }
rules:
  - { name: swing it wide, act: unlock, when: { all: [ { signal: ceiling-eye, turned: occupied, within: 2min }, { signal: idabelle-handset, turned: here, within: 10min } ] } }
limits: { confidence: 0.95, unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min } }
`;
  const log = ["at,what,says"];
  for (let day = 1; day <= 6; day += 1) {
    const date = `2026-06-0${day}`;
    log.push(`${date}T08:00:00Z,r,open`, `${date}T08:00:30Z,c,8.1`, `${date}T08:00:31Z,f,8.2`, `${date}T08:01:00Z,r,closed`, `${date}T08:03:00Z,h,out`, `${date}T08:05:00Z,h,lost-at-idabelle`);
    log.push(`${date}T17:00:00Z,h,in`, `${date}T17:01:00Z,r,open`, `${date}T17:01:30Z,f,4.2`, `${date}T17:01:40Z,c,4.2`, `${date}T17:03:00Z,r,closed`);
  }
  let bytes: Map<string, string>;
  beforeAll(async () => {
    const folder = await folderWith({ "site.yaml": site, "quayside-2026.csv": `${log.join("\n")}\n` });
    const around = listening(folder);
    expect(await runProgram(["audit", "site.yaml", "--redact"], around), around.told()).toBe(3);
    const out = join(folder, "reports", "otter-cottage", "redacted");
    bytes = new Map(await Promise.all((await readdir(out)).map(async (name) => [name, await readFile(join(out, name), "latin1")] as const)));
  });

  it("writes no row of an export, and nothing that must be filled in with real names", () => {
    expect([...bytes.keys()].toSorted()).toEqual(["episodes.csv", "findings.json", "firings.csv", "report.html", "signals.csv"]);
  });

  it("leaves no byte of a name, a place or a date", () => {
    const secrets = ["otter", "cottage", "london", "europe", "hallbox", "quayside", "portside", "roadster", "wicket", "idabelle", "ceiling", "flank", "feeler", "handset", "zephyr", "plumboard", "swing", "wide,", "2026", "jun", "+01:00"];
    for (const [name, content] of bytes) {
      const searched = (name === "report.html" ? content.replace(/<style>[\s\S]*?<\/style>|<script>[\s\S]*?<\/script>/g, "") : content).toLowerCase();
      for (const secret of secrets) expect(`${name}: ${searched.includes(secret) ? secret : "nothing"}`).toBe(`${name}: nothing`);
    }
  });
});
