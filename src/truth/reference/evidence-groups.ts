import { causeGroups } from "../../site/cause-groups.js";
import type { Site } from "../../site/site.js";

/**
 * The name of the group of every signal of the site, by signal: connected through shared causes by any chain, or through pairs that
 * were `detected` to hang together ({@link findDependences}). Only signals of different groups can bear each other out.
 */
export function evidenceGroups(site: Pick<Site, "signals">, detected: readonly (readonly [string, string])[] = []): ReadonlyMap<string, string> {
  return causeGroups(site.signals, detected);
}
