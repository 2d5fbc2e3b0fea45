import { groups } from "d3-array";
import { listText } from "../../judge/rule/words.js";
import type { Counts, SignalCounts } from "../../result/counts.js";
import { basisBarrier, nameThen } from "./basis.js";
import { clocksBarrier, sameClocks } from "./clocks.js";
import { isSameSensor } from "./compared.js";
import { readingsBarrier } from "./readings.js";

/**
 * A sentence for everything of this period that cannot be compared with an earlier period, and why; earliest period
 * first.
 */
export function notCompared(now: Counts, earlier: readonly Counts[]): string[] {
  return earlier.flatMap((was) => [...charges(now, was), ...bases(now, was), ...readings(now, was), ...clocks(now, was)]);
}

function charges(now: Counts, was: Counts): string[] {
  const newer = (counts: Counts): boolean => counts.signals.some((one) => one.disagreements !== undefined);
  return newer(now) && !newer(was) && was.signals.length > 0
    ? [
        `Missed visits and false reports are not compared with ${was.period.label}: that older result blamed both of two sensors that differ.`,
      ]
    : [];
}

/** Signals about which the truth came from another sort of witness then; those with the same reason share a sentence. */
function bases(now: Counts, was: Counts): string[] {
  const barred = now.signals.flatMap((signal) => {
    const name = nameThen(signal.signal, now, was);
    const isThere = was.signals.some((one) => one.signal === name && isSameSensor(one, signal));
    const why = isThere ? basisBarrier(signal.signal, name, now, was) : null;
    return why === null ? [] : [{ signal: signal.signal, why }];
  });
  return groups(barred, ({ why }) => why).map(([why, all]) => `What ${listText(all.map(({ signal }) => signal))} did is not compared with ${was.period.label}: ${why}.`);
}

/** Signals with the same reason share a sentence: an old result lacks all of them. */
function readings(now: Counts, was: Counts): string[] {
  const barred = now.signals.flatMap((signal) => {
    const same = was.signals.find((one) => one.signal === signal.signal && isSameSensor(one, signal));
    const why = same === undefined ? null : readingsBarrier(signal, same);
    return why === null ? [] : [{ signal: signal.signal, why }];
  });
  return groups(barred, ({ why }) => why).map(
    ([why, all]) => `Readings of ${all.map(({ signal }) => signal).join(", ")} are not compared with ${was.period.label}: ${why}.`,
  );
}

function clocks(now: Counts, was: Counts): string[] {
  const pairs = now.clocks ?? [];
  if (pairs.length === 0) return [];
  if (was.clocks === undefined)
    return [`Clocks are not compared with ${was.period.label}: that older result kept no clock offsets.`];
  return pairs.flatMap((pair) => {
    const same = sameClocks(was, pair);
    const why = same === undefined ? null : clocksBarrier(pair, same);
    return why === null ? [] : [`Clocks of ${pair.first} and ${pair.second} are not compared with ${was.period.label}: ${why}.`];
  });
}

type Present = NonNullable<SignalCounts["distances"]>["present"];

/**
 * What a person changed in the site file since the latest earlier period that recorded it: bands, and clock
 * corrections. A sentence each. Neither is a change of a sensor, and the comparisons allow for both.
 */
export function siteFileChanges(now: Counts, earlier: readonly Counts[]): string[] {
  return [...bands(now, earlier), ...corrections(now, earlier)];
}

function bands(now: Counts, earlier: readonly Counts[]): string[] {
  return now.signals.flatMap(({ signal, distances }) => {
    const latest = earlier.findLast((counts) => (counts.signals.find((one) => one.signal === signal)?.distances ?? null) !== null);
    const was = latest?.signals.find((one) => one.signal === signal)?.distances ?? null;
    if (latest === undefined || was === null || distances === undefined || distances === null || sameBand(was.present, distances.present))
      return [];
    return [
      `${signal}: its band in the site file was ${bandText(was.present)} in ${latest.period.label} and is ${bandText(distances.present)} now: a change of the site file, not of the sensor.`,
    ];
  });
}

function sameBand(one: Present, other: Present): boolean {
  return (
    one.nearMetres === other.nearMetres &&
    one.farMetres === other.farMetres &&
    one.slackMetres === other.slackMetres &&
    one.maximumMetres === other.maximumMetres
  );
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
      : [
          `${source}: the clock correction in the site file was ${was} s in ${latest.period.label} and is ${seconds} s now. Clock offsets are compared with corrections taken out; lags and faults are compared as they came out.`,
        ];
  });
}

/** Seconds by source; sources that watch nothing in common with another are missing. */
function correctionsOf({ clocks }: Counts): Map<string, number> {
  return new Map(
    (clocks ?? []).flatMap(
      ({ first, second, correctedSeconds }) =>
        [
          [first, correctedSeconds[0]],
          [second, correctedSeconds[1]],
        ] as [string, number][],
    ),
  );
}
