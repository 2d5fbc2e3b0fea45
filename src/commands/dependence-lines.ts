import type { DiaryEntry, Readings } from "../intake/readings.js";
import { settlePeriod } from "../intake/period.js";
import { detectedPairs, findDependences } from "../truth/reference/dependence.js";
import { signalAccounts } from "../truth/signals/accounts.js";
import type { Site } from "../site/site.js";

/**
 * What `check` proposes for signals that seem connected though the site file names no shared cause: two lines for each pair.
 * At least one signal must have readings.
 */
export function dependenceLines(site: Site, readings: ReadonlyMap<string, Readings>, diary: readonly DiaryEntry[]): string[] {
  const { period, readings: used } = settlePeriod(site, readings, { form: "all" });
  const dependences = findDependences(site, signalAccounts(site, used, period), diary, period, used);
  return detectedPairs(dependences).flatMap(([one, other]) => {
    const seen = dependences.filter(({ signals: [a, b] }) => a === one && b === other).map(({ text }) => text);
    return [
      `  ${one} and ${other} ${seen.join(" and ")}: do they share a board, a supply or a hub?`,
      `    If so, write \`shares: [NAME]\` for both; if not, \`independent: { of: ${other}, because: WHY }\` for ${one}. Until then they count as one sensor.`,
    ];
  });
}
