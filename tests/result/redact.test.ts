import { readFile, readdir } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { gridClock, NEUTRAL_MADE, type GridClock } from "../../src/result/redact-clock.js";
import { proseInDays } from "../../src/result/redact-days.js";
import { nameKeys, nameReplacer } from "../../src/result/redact-names.js";
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
    const before = exampleFindings.rules[0]!.margin.nearMisses[0]!.excerpt!;
    const after = redacted.rules[0]!.margin.nearMisses[0]!.excerpt!;
    const named = (name: string): string => redacted.signals[exampleFindings.signals.findIndex(({ signal }) => signal === name)]!.signal;
    expect(after.lanes.filter(({ role }) => role === "signal").map(({ label }) => label)).toEqual(["bay-1-wall", "phone-mira", "yard-door-rail"].map(named));
    expect(after.lanes.filter(({ role }) => role !== "signal").map(({ label }) => label)).toEqual(["person-A", redacted.rules[0]!.name]);
    const shift = after.from - before.from;
    expect(Math.abs(shift % 3_600_000)).toBe(0);
    expect(after.lanes.map(({ steps }) => steps.map(([at, state]) => [at - shift, state]))).toEqual(before.lanes.map(({ steps }) => steps.map(([at, state]) => [at, state])));
  });

  it("have one row a source, which adds up, without first and last readings and without rows of a clock change", () => {
    const files = exampleFindings.ledger.slice(0, 2).map((row, i) => ({ ...row, source: "log", file: `${i}.csv`, read: 1238, accepted: 1234, duplicate: 1, setAside: 3, repeatedHourRows: 9, reasons: [{ reason: "local time skipped by a clock change", count: 2 }, { reason: "time stamp not readable", count: 1 }] }));
    const { ledger } = redactFindings({ ...exampleFindings, ledger: files });
    expect(ledger).toHaveLength(1);
    expect(ledger[0]).toMatchObject({ read: 2508, accepted: 2500, duplicate: 2, setAside: 6, repeatedHourRows: 0, shiftedRows: 0, first: null, last: null, reasons: [{ reason: "time stamp not readable", count: 6 }] });
  });

  it("keep the site's own times of day, after a clock change too, and every distance but over it", () => {
    const shift = redacted.period.from - exampleFindings.period.from;
    const change = Date.parse("2026-10-25T01:00:00.000Z");
    redacted.episodes.forEach((episode, index) => {
      const { anchor } = exampleFindings.episodes[index]!;
      expect(episode.anchor - anchor).toBe(shift - (anchor < change ? 0 : 3_600_000));
    });
    expect(exampleFindings.episodes.filter(({ anchor }) => anchor > change).length).toBeGreaterThan(3);
    expect(redacted.period).toMatchObject({ from: Date.parse("2001-01-01T00:00:00.000Z"), to: Date.parse("2001-02-01T00:00:00.000Z"), days: 31 });
  });

  it("keep counts and shares, and tell amounts of time and rates by two figures", () => {
    redacted.signals.forEach(({ agreement, transitions, judgedAgainst }, index) => {
      const before = exampleFindings.signals[index]!;
      expect(transitions).toEqual(before.transitions);
      expect(agreement.value ?? -1).toBeCloseTo(before.agreement.value ?? -1, 3);
      for (const hours of Object.values(judgedAgainst.hours)) expect(hours).toBe(Number(hours.toPrecision(2)));
    });
  });

  it("do not tell when they were made", () => {
    expect(redacted.made.at).toBe(NEUTRAL_MADE);
  });

  it("are the same whenever they are made, and leave the original as it was", () => {
    const before = structuredClone(exampleFindings);
    expect(redactFindings(exampleFindings)).toEqual(redacted);
    expect(exampleFindings).toEqual(before);
  });

  it("make a report that tells days by number and says what was replaced", async () => {
    const html = await renderReport(redacted);
    expect(html).toContain("Names, places and dates were replaced. It still shows when somebody comes and goes.");
    expect(html).toMatch(/<time datetime="2001-01-09T14:12:40\.000Z">day 9, 14:12:40<\/time>/);
    expect(html).toContain(">at a time left out</time> by keyworthy");
    expect(html.match(/\bday (?:3[3-9]|[4-9]\d|\d{3})\b.{0,80}/)).toBe(null);
    const lower = html.toLowerCase();
    expect(standing(partsOf(namesIn(exampleFindings)), lower)).toEqual([]);
    expect(/2026|europe|london|\boct\b|\bmon \d/.exec(lower)).toBe(null);
  });
});

/** Prose of a period that begins on the first of October 2026 in London. */
const inText = (text: string, told: readonly number[] = [], isNear = false): string => proseInDays({ clock: londonClock(told), periodTo: Date.parse("2026-11-01T00:00:00.000Z"), told })(text, isNear);
const londonClock = (told: readonly number[]): GridClock => gridClock([...told, Date.parse("2026-09-30T23:00:00.000Z"), Date.parse("2026-11-01T00:00:00.000Z")], Date.parse("2026-09-30T23:00:00.000Z"), "Europe/London");

describe("dates in prose", () => {
  it.each([
    ["The readings end at 2026-10-07 18:03 +01:00: no more.", "The readings end at day 7 18:03: no more."],
    ["since 2026-10-07T17:03:09.000Z", "since day 7 18:03:09"],
    ["after the change 2026-10-31T18:03:00+00:00", "after the change day 31 18:03"],
    ["from 2026-10-01_2026-10-07", "from day 1_day 7"],
    ["in 2026-10, against 2026-09 and 2025-12", "in month 1, against month 0 and month -9"],
    ["on Sun 25 Oct 2026 and 3 November", "on day 25 and day 34"],
    ["Fewer than 4 were seen of Thursday, Sunday; on Wednesdays", "Fewer than 4 were seen of day 1, 8…, day 4, 11…; on day 7, 14…"],
    ["signal-4 may be late; Seen: October 2026 to November 2026.", "signal-4 may be late; Seen: month 1 to month 2."],
    ["Write `zone: Europe/Madrid` or zone: CET under it", "Write `zone: a time zone` or zone: a time zone under it"],
    ["a reading of 1970-01-01 01:00 +01:00, 2099-01-01, and 2000-01-01T00:00:00.000Z", "a reading of a day long before 01:00, a day long after, and a day long before 00:00"],
    ["0.5 a year in 31 days, 342 of 2000", "0.5 a year in 31 days, 342 of 2000"],
    ["allows up to 153 a year; about 153 a year; at most 27.1 wrong a year", "allows up to 160 a year; about 150 a year; at most 28 wrong a year"],
    ["at least 77.3 a year, up to 1,530 a year, of 44,640 readings", "at least 77 a year, up to 1600 a year, of 45000 readings"],
  ])("%s", (written, told) => {
    expect(inText(written).replace("before 00:00:00", "before 00:00").replace("18:03:00", "18:03")).toBe(told);
  });

  it.each([
    ["read empty from 17:15:06 to 08:16:07 (16 h 1 min 1 s)", "read empty from 17:15:06 to 08:16:07 (15 h 1 min 1 s)"],
    ["heard from 2026-10-24 22:10 +01:00 to 2026-10-25 08:10 +00:00 (11 h)", "heard from day 24 22:10 to day 25 08:10 (10 h)"],
    ["read empty from 17:15:06 to 08:16:07 (15 h 1 min 1 s)", "read empty from 17:15:06 to 08:16:07 (15 h 1 min 1 s)"],
    ["read empty from 17:15:06 to 18:16:07 (2 d 1 h 1 min 1 s)", "read empty from 17:15:06 to 18:16:07 (2 d 1 h 1 min 1 s)"],
  ])("tell a length that a clock change made an hour more by its ends: %s", (written, told) => {
    expect(inText(written)).toBe(told);
  });

  it("tell a time of the repeated hour as the instant is told, where the text is about that night", () => {
    const told = [Date.parse("2026-10-25T00:55:00.000Z"), Date.parse("2026-10-25T01:05:00.000Z")];
    const [first, second] = told.map((instant) => new Date(londonClock(told).moved(instant)).toISOString().slice(11, 19));
    expect([first, second]).toEqual(["01:55:00", "02:05:00"]);
    expect(inText("it said away from 01:55:00 to 01:05:00", told, true)).toBe(`it said away from ${first} to ${second}`);
    expect(inText("on 25 October at 01:55:00; 14:00:00", told)).toBe(`on day 25 at ${first}; 14:00:00`);
    expect(inText("it said away from 01:55:00 to 01:05:00", told)).toBe("it said away from 01:55:00 to 01:05:00");
  });
});

describe("local time on days of 24 hours", () => {
  const at = (text: string): number => Date.parse(text);
  const moved = (told: readonly string[]): string[] => told.map((text) => new Date(londonClock(told.map(at)).moved(at(text))).toISOString().slice(8, 19));

  it("keeps times of day after clocks went back", () => {
    expect(moved(["2026-10-07T17:03:09Z", "2026-10-24T23:30:00Z", "2026-10-25T04:00:00Z", "2026-10-30T18:00:00Z"])).toEqual(["07T18:03:09", "25T00:30:00", "25T04:00:00", "30T18:00:00"]);
  });

  it("leaves what lies close together in the repeated hour as it was, and takes the hour out of the longest pause", () => {
    expect(moved(["2026-10-25T00:40:00Z", "2026-10-25T00:40:20Z", "2026-10-25T01:40:00Z", "2026-10-25T01:40:20Z"])).toEqual(["25T01:40:00", "25T01:40:20", "25T02:40:00", "25T02:40:20"]);
  });

  it("keeps the order of many instants in the repeated hour, none of them told twice", () => {
    const told = Array.from({ length: 240 }, (_, i) => new Date(at("2026-10-24T23:00:00Z") + i * 60_000).toISOString());
    const times = moved(told);
    expect(times).toEqual(times.toSorted());
    expect(new Set(times).size).toBe(told.length);
  });

  it("does not tear apart what lies around the hour that clocks skip", () => {
    const told = ["2026-03-28T22:00:00Z", "2026-03-29T00:59:50Z", "2026-03-29T01:00:10Z", "2026-03-29T05:00:00Z"];
    const clock = gridClock(told.map(at), at("2026-03-01T00:00:00Z"), "Europe/London");
    expect(told.map((text) => new Date(clock.moved(at(text))).toISOString().slice(8, 19))).toEqual(["28T22:00:00", "29T00:59:50", "29T01:00:10", "29T06:00:00"]);
  });

  it("begins every day at midnight, also where the clocks change at midnight", () => {
    // Havana, 8 March 2026: midnight is skipped, and the day begins at 01:00.
    const clock = gridClock([at("2026-03-01T05:00:00Z"), at("2026-03-20T04:00:00Z")], at("2026-03-01T05:00:00Z"), "America/Havana");
    expect(new Date(clock.moved(at("2026-03-08T05:00:00Z"))).toISOString().slice(8, 19)).toBe("08T00:00:00");
  });
});

describe("names that are easily missed", () => {
  const withRules = (edit: (findings: Findings) => Findings): Findings => redactFindings(edit(structuredClone(exampleFindings)));

  it("are found in any case, and in the spelling of a folder", () => {
    const { notes } = withRules((findings) => ({ ...findings, notes: ["HERON LANE, in heron-lane/2026-10, seen by Mira's phone-MIRA."] }));
    expect(notes.slice(1)).toEqual(["the site, in the site/month 1, seen by person-A's signal-6."]);
  });

  it("do not eat numbers where a bay is called 1", () => {
    const { site, notes } = withRules((findings) => ({
      ...findings,
      site: { ...findings.site, subjects: [...findings.site.subjects, { id: "1", class: "bay" as const, vehicle: null }] },
      notes: ["1 of 63 rows"],
    }));
    expect(site.subjects.at(-1)?.id).toBe("bay-C");
    expect(notes.slice(1)).toEqual(["1 of 63 rows"]);
  });

  it.each([
    ["A was empty. A later reading of A, and B’s phone", "bay-A was empty. A later reading of bay-A, and bay-B’s phone"],
    ["Nobody saw A; a and b are no names", "Nobody saw bay-A; a and b are no names"],
    ["A and B together, A/B (A)", "bay-A and bay-B together, bay-A/bay-B (bay-A)"],
    ["for 3 h 20 min h was away; h's phone", "for 3 h 20 min person-A was away; person-A's phone"],
  ])("are replaced where they are one letter and a word of their own: %s", (written, told) => {
    expect(nameReplacer(new Map([["A", "bay-A"], ["B", "bay-B"], ["h", "person-A"]]))(written)).toBe(told);
  });

  it("leave the article alone where a bay is called a", () => {
    expect(nameReplacer(new Map([["a", "bay-A"]]))("A vehicle drove into a, not into a house: a is full, signal-a")).toBe("A vehicle drove into bay-A, not into a house: bay-A is full, signal-a");
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
    const prose = new Set("says state by timeZone id label reason unit why kind text condition rightWhen sentence line assumes notes firing change moments words moves note clockCorrection written evidence steps siteFile notCompared months days commonShareBecause noSharedHoursBecause limitInWords yaml gap rightWhenNote headline seen short title on off effect command did shortfall ask what act".split(" "));
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
    expect([...bytes.keys()].toSorted()).toEqual([".written.json", "episodes.csv", "findings.json", "firings.csv", "report.html", "signals.csv"]);
  });

  it("leaves no byte of a name, a place or a date", () => {
    const secrets = ["otter", "cottage", "london", "europe", "hallbox", "quayside", "portside", "roadster", "wicket", "idabelle", "ceiling", "flank", "feeler", "handset", "zephyr", "plumboard", "swing", "wide,", "2026", "jun", "+01:00"];
    for (const [name, content] of bytes) {
      const searched = (name === "report.html" ? content.replace(/<style>[\s\S]*?<\/style>|<script>[\s\S]*?<\/script>/g, "") : content).toLowerCase();
      for (const secret of secrets) expect(`${name}: ${searched.includes(secret) ? secret : "nothing"}`).toBe(`${name}: nothing`);
    }
  });
});
