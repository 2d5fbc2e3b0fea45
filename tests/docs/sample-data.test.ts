import { cp, readFile } from "node:fs/promises";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeAll, expect, it } from "vitest";
import { auditFiles } from "../../src/commands/audit-files.js";
import { makePlace, outcomes, runPage, type Place, type Ran } from "./place.js";

const audit = "keyworthy audit sample-data/household/site.yaml --month 2026-10";
const simulate = "keyworthy simulate sample-data/household.scenario.yaml --out sample-data/household";
let place: Place;
let ran: Map<string, Ran>;

beforeAll(async () => {
  place = await makePlace("keyworthy");
  await cp("sample-data", join(place.folder, "sample-data"), { recursive: true });
  ran = await runPage("sample-data/README.md", place);
});
afterAll(() => place.remove());

it("gives commands that do what it says", () => {
  expect(outcomes(ran)).toEqual([`${audit}: 3`, `${simulate}: 0`]);
});

it("audits the household as it lies there", async () => {
  expect(ran.get(audit)!.said).toContain("report: reports/heron-lane/2026-10/report.html");
  expect(await place.list("reports/heron-lane/2026-10")).toEqual([...auditFiles].toSorted());
});

it("makes the household again, the same to the byte", async () => {
  expect(ran.get(simulate)!.said).toBe("8 files written to sample-data/household\n");
  const unpacked = async (path: string): Promise<string> => {
    const bytes = await readFile(path);
    return (path.endsWith(".gz") ? gunzipSync(bytes) : bytes).toString("utf8");
  };
  const names = ["site.yaml", "diary-kept.csv", "diary-true.csv", ...(await place.list("sample-data/household/exports")).map((name) => `exports/${name}`)];
  expect(names).toHaveLength(8);
  for (const name of names) expect((await unpacked(join(place.folder, "sample-data/household", name))) === (await unpacked(join("sample-data/household", name))), name).toBe(true);
});
