import type { Counts, SignalCounts } from "../../result/counts-schema.js";

type Present = NonNullable<SignalCounts["distances"]>["present"];

/**
 * What a person changed in the site file since the latest earlier period whose counts tell: bands, and clock corrections. A
 * sentence each. Neither is a change of a sensor, and the comparisons are made so that they do not show there.
 */
export function siteFileChanges(now: Counts, earlier: readonly Counts[]): string[] {
  return [...bands(now, earlier), ...corrections(now, earlier)];
}

function bands(now: Counts, earlier: readonly Counts[]): string[] {
  return now.signals.flatMap(({ signal, distances }) => {
    const latest = earlier.findLast((counts) => (counts.signals.find((one) => one.signal === signal)?.distances ?? null) !== null);
    const was = latest?.signals.find((one) => one.signal === signal)?.distances ?? null;
    if (latest === undefined || was === null || distances === undefined || distances === null || sameBand(was.present, distances.present)) return [];
    return [`${signal}: its band in the site file was ${bandText(was.present)} in ${latest.period.label} and is ${bandText(distances.present)} now: a change of the site file, not of the sensor.`];
  });
}

function sameBand(one: Present, other: Present): boolean {
  return one.nearMetres === other.nearMetres && one.farMetres === other.farMetres && one.slackMetres === other.slackMetres && one.maximumMetres === other.maximumMetres;
}

function bandText({ nearMetres, farMetres, slackMetres, maximumMetres }: Present): string {
  const cm = (metres: number): string => `${Number((metres * 100).toFixed(1))} cm`;
  return `${cm(nearMetres)} to ${cm(farMetres)}${slackMetres > 0 ? `, slack ${cm(slackMetres)}` : ""}${maximumMetres === null ? "" : `, maximum ${cm(maximumMetres)}`}`;
}

function corrections(now: Counts, earlier: readonly Counts[]): string[] {
  const latest = earlier.findLast(({ clocks }) => clocks !== undefined);
  if (latest === undefined) return [];
  const before = correctionsOf(latest);
  return [...correctionsOf(now)].flatMap(([source, seconds]) => {
    const was = before.get(source);
    return was === undefined || was === seconds
      ? []
      : [`${source}: the clock correction in the site file was ${was} s in ${latest.period.label} and is ${seconds} s now. Clock offsets are compared with corrections taken out; lags and faults are compared as they came out.`];
  });
}

/** By source; sources that watch nothing in common with another are not among them. */
function correctionsOf({ clocks }: Counts): Map<string, number> {
  return new Map((clocks ?? []).flatMap(({ first, second, correctedSeconds }) => [[first, correctedSeconds[0]], [second, correctedSeconds[1]]] as [string, number][]));
}
