import { dirname } from "node:path";
import type { Counts } from "../result/counts.js";
import { fleetOf } from "../compare/fleets/fleet.js";
import { overlappingAudits } from "../compare/fleets/audits.js";
import { type Fleet, fleetSchema } from "../result/fleet.js";
import { fleetBaysCsv, fleetSignalsCsv } from "../compare/fleets/tables.js";
import { InputError } from "../ground/problem.js";
import { version } from "../ground/version.js";
import { oneLine } from "./one-line.js";
import type { Surroundings } from "./surroundings.js";
import { beginWholeFolder, type WholeFolder } from "./whole-folder.js";
import { refuseForeign, type ResultOf } from "./written-list.js";
import { jsonText } from "../result/json-text.js";
import { isoText } from "../result/values.js";

/** Lies beside the folders of sites, whose names never begin with an underscore. */
export const FLEET_FOLDER = "_fleet";

/** Compares finished audits. Throws `InputError` naming every pair of audits of one site that cover the same time. */
export function compareFleet(audits: readonly Counts[], leftOut: Fleet["leftOut"], around: Surroundings): Fleet {
  const twice = overlappingAudits(audits);
  if (twice.length > 0) {
    throw new InputError(
      twice.map(([a, b]) => ({
        code: "result-overlap",
        what: `Two audits of ${a.site.name} cover the same time and would be counted twice`,
        found: `${a.period.label} (${isoText(a.period.from)} to ${isoText(a.period.to)}) and ${b.period.label} (${isoText(b.period.from)} to ${isoText(b.period.to)})`,
        mend: "name only one of them",
      })),
    );
  }
  return fleetOf(audits, { madeAt: around.now(), madeBy: `keyworthy ${version}`, leftOut });
}

/** Writes a fleet result into its own folder, completely or not at all. */
export async function writeFleet(fleet: Fleet, target: string): Promise<void> {
  const of: ResultOf = { result: "fleet", sites: [...new Set(fleet.parts.map(({ site }) => site))], period: null };
  await refuseForeign(target, of);
  const folder = await beginWholeFolder(dirname(target));
  try {
    await addFleet(fleet, folder, "");
    await folder.finish(target, of);
  } catch (error) {
    await folder.abandon();
    throw error;
  }
}

/** Adds the files of a fleet result to an unfinished folder, under `prefix`. */
export async function addFleet(fleet: Fleet, folder: WholeFolder, prefix: string): Promise<void> {
  await folder.write(`${prefix}fleet.json`, jsonText(fleetSchema, fleet));
  await folder.write(`${prefix}bays.csv`, fleetBaysCsv(fleet));
  await folder.write(`${prefix}signals.csv`, fleetSignalsCsv(fleet));
  const { renderFleet } = await import("../report/fleet-page.js");
  await folder.write(`${prefix}fleet.html`, await renderFleet(fleet));
}

/** The lines shown after a fleet result: how many audits, and where to go first. */
export function fleetText(fleet: Fleet, page: string): string {
  const sites = new Set(fleet.parts.map((part) => part.site)).size;
  const first = fleet.sendFirst.slice(0, 3).map(({ site, subject, reasons }) => `  ${site}, ${subject}: ${reasons.join(" ")}`);
  return [
    "",
    `Fleet of ${sites} sites: ${fleet.bays.length} bays, ${fleet.signals.length} signals, ${fleet.parts.length} audits`,
    ...(first.length === 0 ? ["  no bay or sensor stands out from the others"] : ["  send someone here first:", ...first.map((line) => `  ${line}`)]),
    ...fleet.leftOut.map(({ what, why }) => `  left out: ${what}: ${why}`),
    `  page: ${page}`,
    "",
  ]
    .map(oneLine)
    .join("\n");
}
