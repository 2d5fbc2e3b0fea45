import type { Site } from "../../site/site.js";
import { keyOf, type Liar } from "./lying-sets.js";

/** A minimal cut set, split into what kind each member is. */
export interface CutSet {
  readonly signals: readonly string[];
  readonly causes: readonly string[];
  /** `board-a alone`, `phone-mira and board-b together`. */
  readonly text: string;
}

/** A figure at the rates measured, and at the upper ends of their intervals. Each null where what it needs is not known: of some rates only the upper end is. */
export interface ExpectedFigure {
  readonly value: number | null;
  readonly high: number | null;
  readonly why: string | null;
}

/** Which shared causes a signal depends on. */
export function causesBySignal(site: Site): (signal: string) => readonly string[] {
  const shares = new Map(site.signals.map((signal) => [signal.id, signal.shares]));
  return (signal) => shares.get(signal) ?? [];
}

/** The members of a set in words. */
export function cutSetText(set: readonly Liar[]): string {
  const names = set.map((liar) => liar.name);
  if (names.length === 1) return `${names[0]!} alone`;
  return `${names.slice(0, -1).join(", ")} and ${names.at(-1) ?? ""} together`;
}

/** A set in the form in which it is told. */
export function cutSet(set: readonly Liar[]): CutSet {
  const names = (kind: Liar["kind"]): string[] => set.filter((liar) => liar.kind === kind).map((liar) => liar.name);
  return { signals: names("signal"), causes: names("cause"), text: cutSetText(set) };
}

/** The signals that each shared cause takes with it. */
export function signalsByCause(site: Site): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>();
  for (const { id, shares } of site.signals) for (const cause of shares) found.set(cause, [...(found.get(cause) ?? []), id]);
  return found;
}

/** Sets by their members, whatever their order. */
export function setKey(set: readonly Liar[]): string {
  return set.map(keyOf).sort().join("\n");
}
