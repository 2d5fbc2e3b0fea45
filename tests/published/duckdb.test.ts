/**
 * DuckDB (S: an independent database, its own CSV reader and window functions) computes from the same files in SQL, of every
 * bay, the time for which two meters agree, the states of a tag and the firings of a rule. It is the outside check of intake,
 * timelines and replay at once: the same numbers, to the millisecond.
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
  const { bays: ours, period } = await ourFigures(site);
  const theirs = await duckdbFigures({ ...fleetWords, files: join(folder, "exports", "bay-*.csv"), expectMs: site.signals[0]!.expectMs!, ...period });
  expect(theirs).toEqual(ours);
  expect(ours.map(({ bay }) => bay)).toEqual(["01", "02"]);
  // The month has something of everything: both agree and disagree, fall silent, come and go, and fire.
  for (const { together, tag, firings } of ours) {
    for (const totals of [0, 4, 2, 6]) expect(together[totals]).toBeGreaterThan(0);
    for (const state of [0, 1]) expect(tag[state]).toBeGreaterThan(0);
    expect(firings.length).toBeGreaterThan(10);
  }
});
