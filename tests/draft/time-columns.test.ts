import { describe, expect, it } from "vitest";
import { readExports } from "../../src/intake/read-exports.js";
import { sampleExports } from "../../src/intake/sample-exports.js";
import { draftSite } from "../../src/draft/draft-site.js";
import { parseSite } from "../../src/site/parse.js";
import { folderWith } from "../commands/tiny-site.js";
import { pairsOf } from "../intake/packed.js";

/** A door that opens and shuts at these instants. */
const instants = Array.from({ length: 48 }, (_, i) => Date.UTC(2026, 1, 3, 8) + i * (7 * 86_400_000 + 3 * 3_600_000 + 61_000));
const words = instants.map((_, i) => (i % 2 === 0 ? "open" : "closed"));

/** Drafts from one file, fills in the zone, and reads it as an audit does: the instants of its one signal, what was set aside, and the draft. */
async function readBack(text: string, answers: ReadonlyMap<string, string> = new Map()) {
  const folder = await folderWith({ "front door.csv": text });
  const { samples } = await sampleExports(["front door.csv"], folder, () => undefined);
  const draft = draftSite(samples, { site: "s", file: "site.yaml" }, new Map([...answers, ["timezone", "UTC"]]));
  const site = parseSite(draft.yaml, `${folder}/site.yaml`, folder);
  const setAside: string[] = [];
  const { readings, ledger } = await readExports({ ...site, folder }, { onSetAside: ({ line, detail }) => setAside.push(`${line} ${detail}`) });
  return { draft, setAside, ledger, times: [...readings.values()].flatMap((one) => pairsOf(one).map(([at]) => at)) };
}

const pad = (value: number): string => String(value).padStart(2, "0");
const parts = (at: number) => {
  const date = new Date(at);
  return { y: date.getUTCFullYear(), mo: date.getUTCMonth(), d: date.getUTCDate(), h: date.getUTCHours(), mi: pad(date.getUTCMinutes()), s: pad(date.getUTCSeconds()) };
};
const half = (at: number, am: string, pm: string): string => `${parts(at).h % 12 === 0 ? 12 : parts(at).h % 12}:${parts(at).mi}:${parts(at).s} ${parts(at).h < 12 ? am : pm}`;
const named = (language: string, month: "long" | "short") => (at: number): string => {
  const name = new Intl.DateTimeFormat(language, { month, timeZone: "UTC" }).format(at);
  const { d, y, h, mi, s } = parts(at);
  return `${d} ${name} ${y} ${pad(h)}:${mi}:${s}`;
};

describe("stamps of every sort are found by a draft and read by an audit", () => {
  it.each<[string, (at: number) => string]>([
    ["basic ISO in UTC", (at) => new Date(at).toISOString().replace(/[-:]|\.\d+/g, "")],
    ["basic ISO with an offset", (at) => `${new Date(at + 3_600_000).toISOString().replace(/[-:]|\.\d+Z/g, "")}+0100`],
    ["AM and PM", (at) => `${parts(at).mo + 1}/${parts(at).d}/${parts(at).y} ${half(at, "AM", "PM")}`],
    ["a.m. and p.m.", (at) => `${parts(at).d}/${parts(at).mo + 1}/${parts(at).y} ${half(at, "a.m.", "p.m.")}`],
    ["a. m. and p. m.", (at) => `${parts(at).d}/${parts(at).mo + 1}/${parts(at).y} ${half(at, "a. m.", "p. m.")}`],
    ...["en", "de", "fr", "es"].flatMap((language) => (["long", "short"] as const).map((month): [string, (at: number) => string] => [`months in ${language}, ${month}`, named(language, month)])),
    ["German with points", (at) => `${parts(at).d}. ${new Intl.DateTimeFormat("de", { month: "long", timeZone: "UTC" }).format(at)} ${parts(at).y} ${pad(parts(at).h)}:${parts(at).mi}:${parts(at).s}`],
    ["American with a comma", (at) => `${new Intl.DateTimeFormat("en-US", { month: "short", timeZone: "UTC" }).format(at)} ${parts(at).d}, ${parts(at).y} ${half(at, "AM", "PM")}`],
  ])("%s", async (_, written) => {
    const { times, setAside } = await readBack(`when;says\n${instants.map((at, i) => `${written(at)};${words[i]!}\n`).join("")}`);
    expect(setAside).toEqual([]);
    expect(times).toEqual(instants);
  });

  it.each<[string, string, (at: number) => string]>([
    ["German, the day first", "Datum;Uhrzeit", (at) => `${pad(parts(at).d)}.${pad(parts(at).mo + 1)}.${parts(at).y};${pad(parts(at).h)}:${parts(at).mi}:${parts(at).s}`],
    ["the time of day first", "Time;Date", (at) => `${half(at, "AM", "PM")};${parts(at).mo + 1}/${parts(at).d}/${parts(at).y}`],
    ["ISO, cut in two", "day;time", (at) => new Date(at).toISOString().replace("T", ";").replace(".000", "")],
    ["hours and minutes with points, and a month by name", "jour;heure", (at) => `${parts(at).d} ${new Intl.DateTimeFormat("fr", { month: "long", timeZone: "UTC" }).format(at)} ${parts(at).y};${pad(parts(at).h)}.${parts(at).mi}.${parts(at).s}`],
  ])("date and time in two columns: %s", async (_, columns, written) => {
    const { times, setAside, draft } = await readBack(`${columns};says\n${instants.map((at, i) => `${written(at)};${words[i]!}\n`).join("")}`);
    expect(draft.yaml).toMatch(/time: \{ column: \w+, and: \w+, written: /);
    expect(draft.yaml).not.toMatch(/not used: column/);
    expect(setAside).toEqual([]);
    expect(times).toEqual(instants);
  });

  it.each<[string, (at: number) => string]>([
    ["ISO", (at) => `${new Date(at).toISOString().slice(0, 10)} 00:00:00;${new Date(at).toISOString().slice(11, 19)}`],
    ["day first, and half days", (at) => `${pad(parts(at).d)}/${pad(parts(at).mo + 1)}/${parts(at).y} 0:00;${half(at, "AM", "PM")}`],
  ])("a day written as its midnight, beside the time of day: %s", async (_, written) => {
    const { times, setAside, draft } = await readBack(`Date;Time;says\n${instants.map((at, i) => `${written(at)};${words[i]!}\n`).join("")}`);
    expect(draft.yaml).toContain("time: { column: Date, and: Time, written: ");
    expect(setAside).toEqual([]);
    expect(times).toEqual(instants);
  });

  it("does not take a number for a time of day", async () => {
    const log = `day,level,says\n${instants.map((at, i) => `${new Date(at).toISOString().slice(0, 10)},12.50,${words[i]!}\n`).join("")}`;
    await expect(readBack(log)).rejects.toThrow("No column holds time stamps that can be read");
  });
});

describe("counts from the start of a device", () => {
  const start = Date.UTC(2026, 1, 3, 6, 30);
  const log = (name: string, unitMs: number): string => `${name},says\n${instants.slice(0, 5).map((at, i) => `${(at - start) / unitMs},${words[i]!}\n`).join("")}`;

  it.each([["millis", 1, "ms-since"], ["uptime", 1, "ms-since"], ["seconds", 1000, "s-since"], ["Laufzeit", 1000, "s-since"]] as const)("in %s are found, and the start is asked", async (name, unitMs, written) => {
    const answers = new Map([["start:front door.csv", "2026-02-03T08:30:00+02:00"]]);
    const { times, draft } = await readBack(log(name, unitMs), answers);
    expect(draft.yaml).toContain(`time: { column: ${name}, written: ${written}, start: "2026-02-03T08:30:00+02:00" }`);
    expect(times).toEqual(instants.slice(0, 5));
  });

  it("keep the file from loading as long as nobody says when that was", async () => {
    const folder = await folderWith({ "door.csv": log("millis", 1) });
    const { samples } = await sampleExports(["door.csv"], folder, () => undefined);
    const draft = draftSite(samples, { site: "s", file: "site.yaml" }, new Map([["timezone", "UTC"]]));
    expect(draft.yaml).toContain("time: { column: millis, written: ms-since, start: FILL-IN }");
    expect(draft.problems).toEqual([expect.stringContaining("sources › door › time › start is still to be filled in")]);
    const [question] = draft.questions.filter(({ id }) => id === "start:door.csv");
    expect(question).toMatchObject({ text: 'when did the device start that counts in "millis" of door.csv? No row tells', weight: "blocks" });
    expect(["2026-02-03T08:30:00Z", "2026-02-03T08:30:00", "yesterday"].map((text) => question!.typed!.fits(text))).toEqual([true, false, false]);
  });

  it("are no seconds since 1970, though they are as large after some days", async () => {
    const long = Date.UTC(2026, 0, 10);
    const { times } = await readBack(`millis,says\n${instants.slice(0, 4).map((at, i) => `${at - long},${words[i]!}\n`).join("")}`, new Map([["start:front door.csv", "2026-01-10T00:00:00Z"]]));
    expect(times).toEqual(instants.slice(0, 4));
  });

  it("that begin anew are read up to there and counted from there on", async () => {
    const again = `${log("millis", 1)}5000,open\n${instants[20]! - start},closed\n`;
    const { times, setAside, ledger } = await readBack(again, new Map([["start:front door.csv", "2026-02-03T06:30:00Z"]]));
    expect(times).toEqual(instants.slice(0, 5));
    expect(setAside).toEqual(["7", "8"].map((line) => expect.stringMatching(`^${line} column "millis": "\\d+": the device began to count anew in this file, and nothing says when$`) as string));
    expect(ledger[0]).toMatchObject({ read: 7, accepted: 5, setAside: 2 });
  });
});
