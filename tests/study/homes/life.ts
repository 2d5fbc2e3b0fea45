/**
 * How people live in a home with door contacts and motion sensors: when each is out, asleep or about, and which doors they use.
 * Shares no code with `src/simulate`, nor with the other studies but for their random numbers.
 */
import { between, instantsEvenly, type Chance } from "../verdict/random.js";

export const MINUTE = 60_000;
export const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

/** From one instant to another, in milliseconds after the month's first midnight. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** A home and who lives in it. */
export interface HomeKind {
  readonly id: string;
  readonly residents: number;
  /** A robot that cleans for an hour every morning; a cat that roams by day and night; neither. */
  readonly stirs: "nobody else" | "robot" | "cat";
  /** This share of departures and returns goes by a way that no door contact watches. */
  readonly unwatched: number;
  /** How many times a month the hub is down for hours, with all that hangs on it. */
  readonly outages: number;
  /** Works nights and sleeps by day. */
  readonly nights: boolean;
  /** The one resident's phone tells too, minutes late. */
  readonly phone: boolean;
  /** The sensors tell of taps, light switches and the lock's handle only: a signal without a word for still. */
  readonly taps: boolean;
}

/** One use of a door. */
export interface Use {
  readonly opened: number;
  readonly shut: number;
  readonly kind: "leave" | "come" | "neither";
}

/** What truly happened in a month. */
export interface Life {
  readonly days: number;
  /** By resident. */
  readonly out: readonly (readonly Span[])[];
  /** Somebody is out of bed and in: instants at which somebody moves in a room. */
  readonly moves: readonly { readonly at: number; readonly room: string }[];
  readonly uses: readonly Use[];
  /** When nobody is in. */
  readonly empty: readonly Span[];
}

const rooms = ["hall", "kitchen", "living", "bath"] as const;

/** One month of a home. */
export function liveIn(kind: HomeKind, days: number, chance: Chance): Life {
  const out = Array.from({ length: kind.residents }, () => outings(kind, days, chance));
  // Two who leave within a quarter of an hour of each other often go together.
  const [first, ...others] = out;
  const together = others.map((spans) =>
    spans.map((span) => {
      const near = first!.find((one) => Math.abs(one.from - span.from) < 15 * MINUTE);
      return near !== undefined && chance() < 0.6 ? { from: near.from + between(chance, 0, 8_000), to: span.to } : span;
    }),
  );
  const all = [first!, ...together].map(disjoint);
  const uses: Use[] = [];
  const moves: { at: number; room: string }[] = [];
  for (const spans of all) {
    for (const span of spans) {
      pass(span.from, "leave");
      pass(span.to, "come");
    }
    for (const at of awakeMoves(kind, spans, days, chance)) moves.push({ at, room: rooms[Math.floor(chance() ** 1.5 * 4)]! });
  }
  // Post, rubbish, a neighbour at the door: only where somebody is in and awake.
  for (const at of instantsEvenly(chance, 0, days * DAY, 3 * days)) {
    const hour = (at % DAY) / HOUR;
    if (hour < 7 || hour > 22 || all.every((spans) => spans.some((one) => one.from - 5 * MINUTE <= at && at < one.to + 5 * MINUTE))) continue;
    moves.push({ at: at - between(chance, 3_000, 25_000), room: "hall" });
    uses.push({ opened: at, shut: at + between(chance, 8_000, 70_000), kind: "neither" });
    moves.push({ at: at + between(chance, 72_000, 100_000), room: "hall" });
  }
  return { days, out: all, moves: moves.sort((a, b) => a.at - b.at), uses: uses.sort((a, b) => a.opened - b.opened), empty: emptyTimes(all, days) };

  function pass(at: number, which: "leave" | "come"): void {
    if (at <= 0 || at >= days * DAY) return;
    if (chance() < kind.unwatched) {
      if (chance() < 0.7) moves.push({ at: which === "leave" ? at - between(chance, 20_000, 90_000) : at + between(chance, 20_000, 90_000), room: "kitchen" });
      return;
    }
    // Whoever leaves walks through the hall, nearly always seen there; whoever comes is seen when in.
    if (which === "leave") {
      uses.push({ opened: at - between(chance, 4_000, 20_000), shut: at, kind: which });
      if (chance() < 0.93) moves.push({ at: at - between(chance, 22_000, 60_000), room: "hall" });
    } else {
      uses.push({ opened: at, shut: at + between(chance, 5_000, 25_000), kind: which });
      if (chance() < 0.95) moves.push({ at: at + between(chance, 3_000, 30_000), room: "hall" });
    }
  }
}

/** Work, errands, evenings and now and then a weekend away. */
function outings(kind: HomeKind, days: number, chance: Chance): Span[] {
  const spans: Span[] = [];
  for (let day = 0; day < days; day += 1) {
    const at = (hour: number, spreadMinutes: number): number => day * DAY + hour * HOUR + between(chance, -spreadMinutes, spreadMinutes) * MINUTE;
    const weekend = day % 7 >= 5;
    if (weekend && day % 7 === 5 && chance() < 0.15) {
      spans.push({ from: at(10, 120), to: at(42, 150) });
      continue;
    }
    if (!weekend && chance() < 0.82) spans.push(kind.nights ? { from: at(20.5, 40), to: at(31.5, 40) } : { from: at(8, 45), to: at(17.5, 100) });
    const errands = chance() < 0.6 ? 1 + Math.floor(chance() * (weekend ? 3 : 2)) : 0;
    for (let n = 0; n < errands; n += 1) {
      const from = at(between(chance, 9, 20), 0);
      spans.push({ from, to: from + between(chance, 6, 130) * MINUTE });
    }
    if (!kind.nights && chance() < 0.15) spans.push({ from: at(19.5, 40), to: at(22.8, 60) });
  }
  return disjoint(spans.filter(({ to }) => to < days * DAY));
}

/** In order; those that would overlap or nearly touch an earlier one are left out. */
function disjoint(spans: readonly Span[]): Span[] {
  const kept: Span[] = [];
  for (const span of spans.toSorted((a, b) => a.from - b.from)) if (span.from > (kept.at(-1)?.to ?? 0) + 8 * MINUTE) kept.push(span);
  return kept;
}

/** Instants at which a resident moves at home: bursts about the rooms, long sitting, naps, and the night with a walk to the bath. */
function awakeMoves(kind: HomeKind, out: readonly Span[], days: number, chance: Chance): number[] {
  const asleep: Span[] = [];
  for (let day = -1; day < days; day += 1) {
    const [to, rise] = kind.nights ? [32.6, 39.5] : [23, 30.7];
    const night = { from: day * DAY + (to + between(chance, -0.8, 0.8)) * HOUR, to: day * DAY + (rise + between(chance, -0.7, 0.7)) * HOUR };
    asleep.push(night);
    if (chance() < 0.25) {
      const nap = day * DAY + between(chance, 13, 16) * HOUR;
      asleep.push({ from: nap, to: nap + between(chance, 30, 110) * MINUTE });
    }
  }
  const moves: number[] = [];
  for (const { from, to } of asleep) if (to - from > 4 * HOUR && chance() < 0.7) moves.push(...[0, 1].map((n) => between(chance, from + HOUR, to - HOUR) + n * 2 * MINUTE).slice(0, 1));
  let sittingUntil = 0;
  for (let at = between(chance, 0, MINUTE); at < days * DAY;) {
    const sleep = asleep.find((one) => one.from <= at && at < one.to);
    const away = out.find((one) => one.from - 40_000 <= at && at < one.to + 30_000);
    if (sleep !== undefined || away !== undefined) {
      at = Math.max(sleep?.to ?? 0, (away?.to ?? -30_000) + 30_000) + between(chance, 5_000, 3 * MINUTE);
      continue;
    }
    moves.push(at);
    if (at > sittingUntil && chance() < 0.04) {
      sittingUntil = at + between(chance, 25, 110) * MINUTE;
    }
    // Who sits shifts now and then; who is about is seen every minute or so.
    at -= Math.log(1 - chance()) * (at < sittingUntil ? 18 : 2.2) * MINUTE;
  }
  return moves.filter((at) => !out.some((one) => one.from - 15_000 <= at && at < one.to + 3_000));
}

function emptyTimes(out: readonly (readonly Span[])[], days: number): Span[] {
  const edges = out.flatMap((spans) => spans.flatMap(({ from, to }) => [{ at: from, step: 1 }, { at: to, step: -1 }])).sort((a, b) => a.at - b.at || b.step - a.step);
  const empty: Span[] = [];
  let away = 0;
  let since = 0;
  for (const { at, step } of edges) {
    away += step;
    if (away === out.length && step === 1) since = at;
    if (away === out.length - 1 && step === -1 && at > since) empty.push({ from: since, to: Math.min(at, days * DAY) });
  }
  return empty;
}
