/**
 * DuckDB (S: an independent database, its own CSV reader and window functions) computes the time for which two meters
 * agree and the firings of a rule from the same files in SQL. It is the outside check of intake, timelines and replay
 * at once: the same numbers, to the millisecond.
 */
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { loadSite } from "../../src/site/load.js";
import { fleetWords, writeFleet } from "../bench/fleet.js";
import { duckdbFigures } from "./duckdb-figures.js";
import { ourFigures } from "./our-figures.js";

it.each([1, 2, 3])("agrees on a seeded month of two bays, dirt and silences and all (seed %i)", async (seed) => {
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-duckdb-"));
  const site = await loadSite(await writeFleet(folder, 2, 40_000, seed));
  const ours = await ourFigures(site, ["over-01", "wall-01", "rail-01"]);
  const theirs = await duckdbFigures({
    ...fleetWords,
    files: join(folder, "exports", "bay-*.csv"),
    overhead: "over-01",
    wall: "wall-01",
    contact: "door-01",
    expectMs: site.signals[0]!.expectMs!,
    ...ours.period,
  });
  expect(theirs.readings).toEqual(ours.readings);
  expect(theirs.together).toEqual(ours.together);
  expect(theirs.firings).toEqual(ours.firings);
  // The month has something of everything: both agree and disagree, fall silent, and fire.
  for (const totals of [0, 4, 2, 6]) expect(ours.together[totals]).toBeGreaterThan(0);
  expect(ours.firings.length).toBeGreaterThan(10);
});
