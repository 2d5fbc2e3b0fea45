import { cp, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { build, makePlace, type Place, type Ran, withoutProgress } from "./place.js";

/* `npm run demo` builds, and npm test has built already: its last step is run, on a copy of the sample data. */
let place: Place;
let ran: Ran;

beforeAll(async () => {
  const { scripts } = JSON.parse(await readFile("package.json", "utf8")) as { scripts: Record<string, string> };
  const step = scripts["demo"]!.split(" && ").at(-1)!;
  expect(step).toBe("node .build/commands/demo.js");
  place = await makePlace("keyworthy");
  await cp("sample-data", join(place.folder, "sample-data"), { recursive: true });
  ran = await place.run(step.replace(".build", build));
});
afterAll(() => place.remove());

it("audits the household and the yard, and ends well although some of their rules are not clear", () => {
  // On a slow machine it tells every ten seconds how far it is.
  expect([ran.status, withoutProgress(ran.told)]).toEqual([0, ""]);
  expect(ran.said).toMatch(/^Heron Lane, 2026-10: 67,442 rows read/m);
  expect(ran.said).toMatch(/^Millrace Yard, 2026-03: 119,899 rows read/m);
  expect(ran.said).toContain("clear to enable  lock the gate behind the last vehicle");
});

it("leaves a report of each in reports/, as the README says", async () => {
  for (const folder of ["heron-lane/2026-10", "millrace-yard/2026-03"]) expect((await readFile(join(place.folder, "reports", folder, "report.html"), "utf8")).length).toBeGreaterThan(500_000);
});

it("gives the yard, of six bays, a fleet result in its own folder, as docs/fleet.md says of three bays or more", async () => {
  expect(await place.list("reports/millrace-yard/2026-03/fleet")).toEqual(["bays.csv", "fleet.html", "fleet.json", "signals.csv", "sites", "work-orders.csv"]);
  expect(await place.list("reports/heron-lane/2026-10")).not.toContain("fleet");
});
