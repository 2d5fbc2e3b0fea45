import type { Readings } from "../../../src/intake/readings.js";
import type { Band, SignalSpec, Site, Subject } from "../../../src/site/site.js";
import type { Timeline, TruthState } from "../../../src/timeline/timeline.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { readingsOf } from "../../intake/packed.js";

export const SECOND = 1_000;
export const MINUTE = 60 * SECOND;
export const HOUR = 60 * MINUTE;

/** A signal of a subject that only reports changes and takes them on at once, unless told otherwise. */
export function signal(id: string, parts: Partial<SignalSpec> = {}): SignalSpec {
  return {
    id,
    subject: "yard-door",
    source: "log",
    kind: "contact",
    channel: id,
    reading: { form: "words", on: ["open"], off: ["closed"] },
    band: null,
    settleMs: 0,
    expectMs: null,
    shares: [],
    model: null,
    ...parts,
  };
}

/** A meter that reads in feet, its band given in feet. */
export function meter(id: string, bandFeet: { near: number; far: number; slack?: number; maximum?: number }, parts: Partial<SignalSpec> = {}): SignalSpec {
  const band: Band = {
    nearMetres: feet(bandFeet.near),
    farMetres: feet(bandFeet.far),
    slackMetres: feet(bandFeet.slack ?? 0),
    maximumMetres: bandFeet.maximum === undefined ? null : feet(bandFeet.maximum),
  };
  return signal(id, { subject: "bay", kind: "distance", reading: { form: "distance", unit: "ft" }, band, ...parts });
}

export function feet(value: number): number {
  return value * 0.3048;
}

/** A site of these signals; their subjects are made up from what they say they watch. */
export function siteOf(signals: readonly SignalSpec[], parts: Partial<Site> = {}): Site {
  const subjects = [...new Set(signals.map((one) => one.subject))].map((id): Subject => ({ id, class: "bay", vehicle: null }));
  return {
    name: "Test Yard",
    file: "site.yaml",
    folder: ".",
    timeZone: "UTC",
    sources: [],
    subjects,
    signals,
    rules: [],
    confidence: 0.95,
    limits: {},
    diary: [],
    bridgeMs: 0,
    joinMs: 10 * MINUTE,
    restartMs: 5 * SECOND,
    ...parts,
  };
}

/** What intake would hand on, from `[instant, value]` rows by signal. */
export function readingsMap(rows: Readonly<Record<string, readonly (readonly [number, number])[]>>): ReadonlyMap<string, Readings> {
  return new Map(Object.entries(rows).map(([id, list]) => [id, readingsOf(id, list)]));
}

/** The same value every `step` ms on `[from, to)`. */
export function every(step: number, from: number, to: number, value: number): (readonly [number, number])[] {
  return Array.from({ length: Math.max(0, Math.ceil((to - from) / step)) }, (_, i) => [from + i * step, value] as const);
}

/** `[instant, state]` of each step: how a timeline reads in a test. */
export function steps(timeline: Timeline): [number, number][] {
  return [...timeline.times].map((at, i) => [at, timeline.states[i]!]);
}

/** The state at each of these instants. */
export function look(timeline: Timeline, instants: readonly number[]): TruthState[] {
  return instants.map((at) => stateAt(timeline, at));
}
