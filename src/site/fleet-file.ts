import { InputError } from "../ground/problem.js";
import { sensorLimitsOf } from "./build-limits.js";
import { makeComplaints, sortedProblems } from "./complaints.js";
import { keyed, text, texts } from "./leaves.js";
import { siteText } from "./load.js";
import { sensorLimitsShape } from "./sensor-limits-shape.js";
import type { SensorLimits } from "./site.js";
import { readYaml } from "./yaml-text.js";

/** Who belongs to a fleet, and what is accepted of its sensors. */
export interface FleetFile {
  readonly name: string;
  /** Names of sites, as their site files give them. */
  readonly sites: readonly string[];
  /** In place of what the site files say; null: they say it. */
  readonly limits: SensorLimits | null;
}

const fleetShape = keyed(
  {
    fleet: text("the fleet's name").describe("The fleet's name."),
    sites: texts("the names of the sites").describe("The names of all sites that belong to it, as their site files give them."),
    limits: sensorLimitsShape.optional().describe("What is acceptable of a sensor, in place of what the site files say."),
  },
  "a mapping with `fleet` and `sites`",
);

/** Reads a fleet file. Throws `InputError` with every problem found. */
export async function loadFleetFile(path: string): Promise<FleetFile> {
  const yaml = readYaml(await siteText(path), path);
  const complaints = makeComplaints(yaml, path);
  const read = fleetShape.safeParse(yaml.value);
  if (!read.success) {
    for (const issue of read.error.issues) {
      const at = issue.path.filter((key): key is string | number => typeof key !== "symbol");
      const what = issue.code === "unrecognized_keys" ? `A fleet file has no ${issue.keys.map((key) => `"${key}"`).join(", ")}` : `${at.length === 0 ? "The fleet file" : `"${at.join(".")}"`} is not what it should be`;
      complaints.atValue(at, { code: "site-shape", what, expected: issue.code === "unrecognized_keys" ? "fleet, sites and limits" : issue.message });
    }
  }
  if (!read.success || complaints.problems.length > 0) throw new InputError(sortedProblems(complaints.problems));
  const { fleet, sites, limits } = read.data;
  return { name: fleet, sites, limits: limits === undefined ? null : sensorLimitsOf(limits) };
}
