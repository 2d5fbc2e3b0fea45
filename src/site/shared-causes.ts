import type { Site } from "./site.js";

/** Every shared cause with its signals, in the order of the site file; causes by name. */
export function sharedCauses(site: Site): { cause: string; signals: string[] }[] {
  const signalsOf = new Map<string, string[]>();
  for (const { id, shares } of site.signals) {
    for (const cause of shares) signalsOf.set(cause, [...(signalsOf.get(cause) ?? []), id]);
  }
  return [...signalsOf].map(([cause, signals]) => ({ cause, signals })).sort((a, b) => (a.cause < b.cause ? -1 : 1));
}
