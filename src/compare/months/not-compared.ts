import type { Counts } from "../../result/counts-schema.js";
import { clocksBarrier, sameClocks } from "./clocks.js";
import { isSameSensor } from "./compared.js";
import { readingsBarrier } from "./readings.js";

/** A sentence for everything that this period has and that cannot be set beside an earlier period's, and why; earliest period first. */
export function notCompared(now: Counts, earlier: readonly Counts[]): string[] {
  return earlier.flatMap((was) => [...charges(now, was), ...readings(now, was), ...clocks(now, was)]);
}

function charges(now: Counts, was: Counts): string[] {
  const newer = (counts: Counts): boolean => counts.signals.some((one) => one.disagreements !== undefined);
  return newer(now) && !newer(was) && was.signals.length > 0 ? [`Missed visits and phantoms are not compared with ${was.period.label}: it is an older result, which charged both of two signals that differ.`] : [];
}

/** Signals with the same reason share a sentence: an old result lacks all of them. */
function readings(now: Counts, was: Counts): string[] {
  const byWhy = new Map<string, string[]>();
  for (const signal of now.signals) {
    const same = was.signals.find((one) => one.signal === signal.signal && isSameSensor(one, signal));
    const why = same === undefined ? null : readingsBarrier(signal, same);
    if (why !== null) byWhy.set(why, [...(byWhy.get(why) ?? []), signal.signal]);
  }
  return [...byWhy].map(([why, signals]) => `Readings of ${signals.join(", ")} are not compared with ${was.period.label}: ${why}.`);
}

function clocks(now: Counts, was: Counts): string[] {
  const pairs = now.clocks ?? [];
  if (pairs.length === 0) return [];
  if (was.clocks === undefined) return [`Clocks are not compared with ${was.period.label}: it is an older result, which kept no clock offsets.`];
  return pairs.flatMap((pair) => {
    const same = sameClocks(was, pair);
    const why = same === undefined ? null : clocksBarrier(pair, same);
    return why === null ? [] : [`Clocks of ${pair.first} and ${pair.second} are not compared with ${was.period.label}: ${why}.`];
  });
}
