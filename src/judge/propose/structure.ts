import { singlePointsOf, lyingSets, type Structure } from "../fooled/lying-sets.js";
import type { PreparedRule } from "../rule/prepare.js";

/** Sets of this many liars and more are not told apart. Our own choice. */
const MOST_GROUPS = 4;

/** A rule's structure, with each pair of signals found to depend on each other as a shared cause of its own. */
export function structureWith({ claims, causesOf, isOneSided }: PreparedRule, detected: readonly (readonly [string, string])[]): Structure {
  return { claims, isOneSided, causesOf: (signal) => [...causesOf(signal), ...detected.filter((pair) => pair.includes(signal)).map((pair) => pair.join(" with "))] };
}

/** Whether one signal or one shared cause alone could make the rule act. */
export function hasSinglePoint(structure: Structure): boolean {
  const { signals, causes } = singlePointsOf(structure);
  return signals.length + causes.length > 0;
}

/** How many signals and shared causes must lie together at least; {@link MOST_GROUPS} stands for that many or more. */
export function groupsOf(structure: Structure): number {
  for (let size = 2; size < MOST_GROUPS; size += 1) {
    const { sets, upToSize } = lyingSets(structure, size);
    // Where larger sets were too many to follow, the last size that was looked for is certain.
    if (upToSize < size) return size;
    if (sets.some((set) => set.length === size)) return size;
  }
  return MOST_GROUPS;
}
