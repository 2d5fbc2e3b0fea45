import type { RuleSpec, Site } from "../../site/site.js";
import { lyingSets } from "./lying-sets.js";

/** Signals and shared causes each of which alone, by lying, makes a rule fire. Sorted. */
export interface SinglePoints {
  readonly signals: readonly string[];
  readonly causes: readonly string[];
}

/** The lying sets of size one: see {@link lyingSets} for what they take for granted. */
export function singlePointsOf(rule: RuleSpec, site: Site): SinglePoints {
  const shares = new Map(site.signals.map((signal) => [signal.id, signal.shares]));
  const alone = lyingSets(rule.when, (signal) => shares.get(signal) ?? [], 1).sets.filter((set) => set.length === 1).flat();
  const names = (kind: "signal" | "cause"): string[] => alone.filter((liar) => liar.kind === kind).map((liar) => liar.name).sort();
  return { signals: names("signal"), causes: names("cause") };
}
