import { exportTargets } from "./exports.js";
import { resultTargets } from "./results.js";
import type { Target } from "./target.js";
import { writtenTargets } from "./written-by-hand.js";

/** Every reader that is fuzzed, by the name of what it reads. */
export const targetNames = ["csv", "gz", "json", "gpx", "parquet", "zip", "xlsx", "sqlite", "site", "rules", "fleet-file", "scenario", "diary", "findings", "counts"] as const;

/** One of {@link targetNames}. */
export type TargetName = (typeof targetNames)[number];

/** The target of a name, with its samples made. */
export async function targetOf(name: string): Promise<Target> {
  for (const make of [exportTargets, writtenTargets, resultTargets]) {
    const found = (await make()).find((one) => one.name === name);
    if (found !== undefined) return found;
  }
  throw new Error(`nothing is called ${name}: there are ${targetNames.join(", ")}`);
}
