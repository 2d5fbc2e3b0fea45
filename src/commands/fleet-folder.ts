import { dirname } from "node:path";
import type { Counts } from "../result/counts.js";
import { folderName } from "../ground/folder-name.js";
import { type FleetMaking, fleetOf } from "../compare/fleets/fleet.js";
import { overlappingAudits } from "../compare/fleets/audits.js";
import { type Fleet, fleetSchema } from "../result/fleet.js";
import { fleetBaysCsv, fleetSignalsCsv } from "../compare/fleets/tables.js";
import { workOrdersCsv } from "../compare/fleets/work-orders.js";
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
export function compareFleet(audits: readonly Counts[], given: Pick<FleetMaking, "leftOut" | "belongs" | "failed">, around: Surroundings): Fleet {
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
  return fleetOf(audits, { ...given, madeAt: around.now(), madeBy: `keyworthy ${version}` });
}

/** Where the page of a site lies, relative to the fleet's folder; null where there is none. */
export type PageOf = (site: string) => string | null;

/** Writes a fleet result into its own folder, completely or not at all. */
export async function writeFleet(fleet: Fleet, target: string, pageOf: PageOf): Promise<void> {
  const of: ResultOf = { result: "fleet", sites: [...new Set(fleet.parts.map(({ site }) => site))], period: null };
  await refuseForeign(target, of);
  const folder = await beginWholeFolder(dirname(target));
  try {
    await addFleet(fleet, folder, "", pageOf);
    await folder.finish(target, of);
  } catch (error) {
    await folder.abandon();
    throw error;
  }
}

/** Adds the files of a fleet result to an unfinished folder, under `prefix`. */
export async function addFleet(fleet: Fleet, folder: WholeFolder, prefix: string, pageOf: PageOf): Promise<void> {
  await folder.write(`${prefix}fleet.json`, jsonText(fleetSchema, fleet));
  await folder.write(`${prefix}bays.csv`, fleetBaysCsv(fleet));
  await folder.write(`${prefix}signals.csv`, fleetSignalsCsv(fleet));
  await folder.write(`${prefix}work-orders.csv`, workOrdersCsv(fleet));
  const { renderFleet, renderSiteLink } = await import("../report/fleet-page.js");
  await folder.write(`${prefix}fleet.html`, await renderFleet(fleet));
  // The fleet page leads to these, and they lead to the sites' own pages: so it is the same wherever those lie.
  const sites = new Set(fleet.orders.flatMap(({ site }) => (site === "" ? [] : [site])));
  for (const site of sites) await folder.write(`${prefix}sites/${folderName(site)}.html`, renderSiteLink(site, pageOf(site)));
}

/** Orders that are shown in the terminal; all are in work-orders.csv. */
const SHOWN_ORDERS = 5;

/** The lines shown after a fleet result: how many audits, who is missing, and what to do first. */
export function fleetText(fleet: Fleet, page: string): string {
  const sites = new Set(fleet.parts.map((part) => part.site)).size;
  const open = fleet.orders.filter(({ state }) => state !== "mended");
  const lineOf = (order: Fleet["orders"][number]): string => `${order.kind === "export" ? "ask again" : order.kind === "update" ? "update" : "go to"}: ${order.site === "" ? "" : `${order.site}, `}${order.place}: ${order.reason}`;
  const more = open.length - SHOWN_ORDERS;
  return [
    "",
    `Fleet of ${sites} sites: ${fleet.bays.length} bays, ${fleet.signals.length} signals, ${fleet.parts.length} audits`,
    ...absentLines(fleet),
    ...open.slice(0, SHOWN_ORDERS).map((order) => `  ${lineOf(order)}`),
    ...(more > 0 ? [`  and ${more} more in work-orders.csv`] : []),
    ...(open.length > 0 ? [] : [`  ${nothingText(fleet)}`]),
    ...fleet.leftOut.map(({ what, why }) => `  left out: ${what}: ${why}`),
    `  page: ${page}`,
    "",
  ]
    .map(oneLine)
    .join("\n");
}

/** Who is missing, and which exports fall short: told even when nothing else is to be said. */
export function shortfallLines(fleet: Fleet): string[] {
  const asked = fleet.orders.filter(({ kind, state }) => kind === "export" && state !== "mended");
  return [...absentLines(fleet), ...asked.map(({ site, reason, nextStep }) => `  ask again: ${site}: ${reason} ${nextStep}`)].map(oneLine);
}

function absentLines({ absent, belongs }: Fleet): string[] {
  return absent.length === 0 ? [] : [`  not a whole round: ${absent.length} of ${Math.max(belongs.length, absent.length)} sites ${absent.length === 1 ? "is" : "are"} missing`, ...absent.map(({ site, why }) => `  missing: ${site}: ${why}`)];
}

function nothingText({ absent, seen }: Fleet): string {
  const of = `${seen.sensors} sensors with ${seen.turns} changes`;
  return absent.length > 0 ? `nothing found among ${of}, but not everybody is in it` : `nothing stands out among ${of}`;
}
