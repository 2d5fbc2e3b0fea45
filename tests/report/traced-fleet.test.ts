import { beforeAll, describe, expect, it } from "vitest";
import { type Fleet, fleetSchema } from "../../src/result/fleet.js";
import { renderFleet } from "../../src/report/fleet-page.js";
import { localClock } from "../../src/report/local-time.js";
import { fleetOfBays, smallFleet, wideFleet } from "./example-fleets.js";
import { seenText, tracedNumbers, untracedText, wronglyTraced } from "./traced-numbers.js";
import { encoded } from "../../src/result/json-text.js";

/** All texts of a result. */
function textsIn(data: unknown): string[] {
  if (typeof data === "string") return [data];
  return typeof data === "object" && data !== null ? Object.values(data).flatMap(textsIn) : [];
}

/**
 * What of a fleet page does not trace back to its fleet.json. Walked is every text between <body> and </body>: what is left
 * of it without traced numbers, and without sentences that stand in fleet.json word for word, may hold no digit. A table that
 * is cut says after how many rows; that number is held against the rows themselves.
 */
function problemsOf(html: string, fleet: Fleet): string[] {
  const stored: unknown = encoded(fleetSchema, fleet);
  const texts = new Set(textsIn(stored));
  const body = html.slice(html.indexOf("<body>"), html.indexOf("<script>"));
  const names = [...body.matchAll(/<bdi[^>]*>([\s\S]*?)<\/bdi>/g)].map((match) => seenText(match[1] ?? ""));
  const times = [...body.matchAll(/<time datetime="([^"]*)">([\s\S]*?)<\/time>/g)].map(([, at = "", shown = ""]) => ({ at, shown }));
  const { cost, ...said } = fleet.say;
  const sentences = [...fleet.orders.flatMap(({ reason, nextStep }) => [reason, nextStep]), ...fleet.leftOut.map(({ why }) => why), ...fleet.absent.map(({ why }) => why), ...Object.values(said), ...cost, ...fleet.notes].toSorted((a, b) => b.length - a.length);
  const cut = [...body.matchAll(/The first (\d+) are shown[^<]*<\/p>[\s\S]*?<tbody[^>]*>([\s\S]*?)<\/tbody>/g)].filter((match) => Number(match[1]) !== (match[2] ?? "").split("<tr").length - 1);
  const pieces = body.replace(/The first \d+ are shown/g, "").split(/<\/?(?:p|li|td|th|h1|h2|caption|figcaption|header|ul|ol|small)\b[^>]*>/);
  const left = pieces.map((piece) => sentences.reduce((text, sentence) => text.replaceAll(sentence, ""), untracedText(piece)));
  return [
    ...wronglyTraced(body, stored),
    ...names.filter((name) => !texts.has(name)).map((name) => `${name} does not stand in fleet.json`),
    ...times.filter(({ at, shown }) => !texts.has(at) || shown !== localClock("UTC").moment(Date.parse(at))).map(({ shown }) => `${shown} does not stand in fleet.json`),
    ...cut.map((match) => `${match[1]} are said to be shown`),
    ...left.filter((text) => /\d/.test(text)),
  ];
}

describe.each([
  ["two sites", smallFleet],
  ["twenty sites, with tables that are cut", wideFleet],
  ["too few bays to compare", fleetOfBays(2, [])],
])("every number of the fleet page on %s", (_, fleet) => {
  let html: string;
  beforeAll(async () => {
    html = await renderFleet(fleet);
  });

  it("can be written again from where it says it came from in fleet.json, and none stands there without saying", () => {
    expect(tracedNumbers(html).length).toBeGreaterThan(30);
    expect(problemsOf(html, fleet)).toEqual([]);
  });

  it("agrees with the title of the page", () => {
    const [title = ""] = /<title>[^<]*/.exec(html) ?? [];
    const sites = [...new Set(fleet.parts.map(({ site }) => site))];
    const months = [...new Set(fleet.parts.map(({ period }) => period.label))].toSorted();
    const when = months.length === 1 ? months[0] : `${months[0]} to ${months.at(-1)}`;
    expect(seenText(title)).toBe(`${sites.length === 1 ? sites[0] : `${sites.length} sites`}, ${when}, ${fleet.bays.length} bays: where to send someone first`);
  });
});

describe("the walk over the fleet page", () => {
  let html: string;
  beforeAll(async () => {
    html = await renderFleet(smallFleet);
  });
  const [first] = smallFleet.bays;

  it.each<[string, (page: string) => string]>([
    ["a number that is not the one it names", (page) => page.replace(/(data-of="bays\.0">.*?data-from="\.faults\.count"[^>]*>)\d+/, `$1${first!.faults.count + 1}`)],
    ["a plain number that is not the one it names", (page) => page.replace(/(data-of="bays\.0">.*?value=")\d+(" data-from="\.faults\.count")/, `$1${first!.faults.count + 1}$2`)],
    ["a row that leads nowhere", (page) => page.replace('data-of="bays.0"', 'data-of="bays.999"')],
    ["a row that leads to other numbers", (page) => page.replace('data-of="bays.0"', 'data-of="bays.1"')],
    ["a row that does not say where it comes from", (page) => page.replace(' data-of="bays.0"', "")],
    ["a path that leads nowhere", (page) => page.replace('data-from=".arrivals"', 'data-from=".arrival"')],
    ["a path that leads to another number", (page) => page.replace('data-from=".faults.count"', 'data-from=".arrivals"')],
    ["a number in a cell that names nothing", (page) => page.replace(/(data-of="bays\.3">.*?)<data [^>]*data-from="\.faults\.expected"[^>]*>([^<]*)<\/data>/, "$1$2")],
    ["a number in a sentence", (page) => page.replace("Wrong are changes that", "Wrong are 12 changes that")],
    ["a reason that is not in the result", (page) => page.replace(/issed (\d+) of (\d+) changes/, "issed 1$1 of $2 changes")],
    ["a name that is not in the result", (page) => page.replace('<bdi>bay-004', '<bdi>bay-005x')],
  ])("finds %s", (_, spoil) => {
    const spoilt = spoil(html);
    expect(spoilt).not.toBe(html);
    expect(problemsOf(spoilt, smallFleet)).not.toEqual([]);
  });

  it("finds a table that says it was cut elsewhere", async () => {
    const wide = await renderFleet(wideFleet);
    expect(problemsOf(wide.replace("The first 60 are shown", "The first 61 are shown"), wideFleet)).toEqual(["61 are said to be shown"]);
  });
});
