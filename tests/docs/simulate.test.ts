import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { makePlace, outcomes, runPage, type Place, type Ran } from "./place.js";
import { blocksOf, pageText } from "./page-commands.js";

const page = pageText("docs/simulate.md");
/** The page's own pieces of a scenario, put together, and what they leave out: movements, and sensors of the rest. */
const scenario = `${blocksOf(page).filter(({ language }) => language === "yaml").map(({ text }) => text).join("\n")}
  yard-door-rail: { on: yard-door, source: board-log, channel: r1, kind: contact, reads: { on: "1", off: "0" } }
  phone-mira: { on: mira, source: phones, column: Mira, kind: phone, every: 15min, shares: [hub], reads: { on: in, off: out } }
routine:
  - { name: to work, who: [mira], bay: bay-1, through: yard-door, days: weekdays, leaves: "08:05", away: 9h }
diary: { kept: { days: 21, subjects: [bay-1, mira] } }
`;
const simulate = "keyworthy simulate scenario.yaml --out folder";
let place: Place;
let ran: Map<string, Ran>;
const text = (...path: string[]): Promise<string> => readFile(join(place.folder, ...path), "utf8");

beforeAll(async () => {
  place = await makePlace("keyworthy");
  await place.write({ "scenario.yaml": scenario });
  ran = await runPage("docs/simulate.md", place);
});
afterAll(() => place.remove());

it("gives a command that takes the page's own pieces of a scenario", () => {
  expect(outcomes(ran)).toEqual([`${simulate}: 0`]);
});

it("lists what is written: the paths under sources, with the first day of each part, the site file and two diaries", async () => {
  expect(await place.list("folder")).toEqual([".written.json", "diary-kept.csv", "diary-true.csv", "exports", "site.yaml"]);
  expect(await place.list("folder/exports")).toEqual(["board-2026-10-01.csv.gz", "board-2026-10-11.csv.gz", "board-2026-10-21.csv.gz", "board-2026-10-31.csv.gz", "phones.csv"]);
  expect(await text("folder/site.yaml")).toContain("diary-kept.csv");
  expect(await text("folder/site.yaml")).not.toContain("diary-true.csv");
});

it("writes a site file that is ready to use", async () => {
  const { status, told } = await place.run("keyworthy check folder/site.yaml --quiet");
  expect([status, told]).toEqual([0, ""]);
});

it("writes the same bytes every time", async () => {
  await place.run("keyworthy simulate scenario.yaml --out again");
  expect((await place.run("diff -r folder again")).status).toBe(0);
});

it("reports mistakes with file, line and column, and ends with 2", async () => {
  await place.write({ "wrong.yaml": scenario.replace("at_start: here", "at_start: home").replace("kind: contact", "kind: contract") });
  const { status, told } = await place.run("keyworthy simulate wrong.yaml --out wrong");
  expect(status).toBe(2);
  expect(told.match(/^wrong\.yaml:\d+:\d+: /gm)?.length).toBeGreaterThanOrEqual(2);
});

it("shows code that runs", () => {
  const code = blocksOf(page).find(({ language }) => language === "ts")!.text;
  const body = code.replace(/^import .*\n/gm, "");
  expect(code.match(/^import \{ (\w+) \} from "(.*)";$/gm)).toEqual(['import { runScenario } from "../../src/simulate/run.js";', 'import { parseScenario } from "../../src/simulate/scenario.js";']);
  // eslint-disable-next-line @typescript-eslint/no-implied-eval, @typescript-eslint/no-unsafe-call -- the page's own text is what is to be run
  const { files, planted } = new Function("runScenario", "parseScenario", "text", `${body}\nreturn { files, planted };`)(runScenario, parseScenario, scenario) as ReturnType<typeof runScenario>;
  expect(files.get("site.yaml")).toContain("Heron Lane");
  expect([...planted.signals.keys()].toSorted()).toEqual(["bay-1-overhead", "phone-mira", "yard-door-rail"]);
});
