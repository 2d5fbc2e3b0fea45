/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of units, of natures or of rates */
import { permute } from "d3-array";
import type { Counted } from "./counted.js";
import { cutMean, logFactorial, type Mixed } from "./mixed.js";
import { type Nature, natures, spreadOf } from "./nature.js";

/** Beyond so many expected events more of them tell nothing new: how unlike units are by nature then says all. Our own choice. */
const ENOUGH = 200;
/** For the level, counts are cut off so many deviations above the expected. Our own choice. */
const CUT_AT = 2;
/** To begin with, and at most, units are taken to be this unlike where a count is cut off. */
const [UNLIKE_FIRST, UNLIKE_MOST] = [0.5, 1];
/** One unit in fifty may be broken: its count's logarithm is then anything in a span of this length. Our own choice. */
const [BROKEN, SPAN] = [0.02, 7];
/** Level and spread settle in a few rounds. */
const ROUNDS = 4;
/** Without a group with more than this share of all exposure the usual is worked out anew. */
const LARGE = 0.05;
/** A nature is not ruled out while its log-likelihood is less than this below that of the likeliest. Our own choice. */
const NOT_RULED_OUT = 4;

/** What is usual among the units that are not in question: events for each unit of exposure, and how unlike units may be. */
export interface Usual {
  readonly rate: number;
  /** Events and exposure that the rate rests on. */
  readonly events: number;
  readonly exposure: number;
  /** Of each family the widest nature that is not ruled out, if there is one. */
  readonly natures: readonly Nature[];
}

/** Counts and exposures made so small that no unit expects more than {@link ENOUGH}. */
export function tamed(count: number, expected: number): { readonly count: number; readonly expected: number; readonly scale: number } {
  const scale = Math.max(1, expected / ENOUGH);
  return { count: Math.floor(count / scale), expected: expected / scale, scale };
}

/** The spread of each nature for a single unit. */
const spreads: readonly Mixed[] = natures.map((one) => spreadOf(one, 1));

/** Natures to weigh, by index: all of them; and enough of them to find level and spread with. */
const everyNature = natures.map((_, k) => k);
const everyThird = everyNature.filter((k) => k % 3 === 0);

/** The spread of a nature for units that are worth so many of equal exposure. */
export function spreadFor(nature: Nature, worth: number): Mixed {
  return worth === 1 ? spreads[natures.indexOf(nature)]! : spreadOf(nature, worth);
}

/**
 * What is usual among units, in a way that a few bad ones cannot bend. Any unit may be broken, with a small chance, and its count
 * then anything: what no nature explains says nothing of nature, while what a wider one does explain keeps that nature possible.
 * The level rests on counts cut off a little above the expected, weighed by how likely their unit is sound, against what such cut
 * counts would be on average. So nobody is left out because of what it did: that would make the level too low and the spread too narrow,
 * and call ordinary units worse one after another. Returns the usual of all but a group: a small one is taken out of the sums, without a
 * large one all is worked out anew.
 */
export function usualOf(units: readonly Counted[]): (group: readonly number[]) => Usual {
  const all = fitOf(units);
  const exposure = exposureOf(units);
  const anew = new Map<string, Usual>();
  return (group) => {
    if (exposureOf(permute(units, group)) <= LARGE * exposure) return withoutSmall(all, group);
    const key = group.join(" ");
    let known = anew.get(key);
    if (known === undefined) {
      const out = new Set(group);
      anew.set(key, (known = withoutSmall(fitOf(units.filter((_, index) => !out.has(index))), [])));
    }
    return known;
  };
}

/** Level and spread, and what each unit has to do with them. */
interface Fit extends Known {
  readonly units: readonly Counted[];
  readonly rate: number;
  readonly events: number;
  readonly expected: number;
}

function fitOf(units: readonly Counted[]): Fit {
  let rate = startRate(units);
  let deviation = UNLIKE_FIRST;
  for (let round = 1; ; round += 1) {
    const isLast = round === ROUNDS;
    const tried = isLast ? everyNature : everyThird;
    const known = knownOf(units, rate, deviation, tried);
    const at = indexOfMost(known.summed);
    const likeliest = tried[at]!;
    let [events, expected] = [0, 0];
    for (const one of known.cells) {
      const sound = 1 - BROKEN / (SPAN * (one.count + 1)) / Math.exp(one.likelihoods[at]!);
      one.mean = sound * one.scale * cutMean(one.most, one.expected, spreads[likeliest]!);
      one.seen = sound * one.scale * Math.min(one.most, one.count);
      events += one.units * one.seen;
      expected += one.units * one.mean;
    }
    if (isLast || events === 0) return { ...known, units, rate: events === 0 ? 0 : rate, events, expected };
    rate *= events / expected;
    deviation = Math.min(UNLIKE_MOST, natures[likeliest]!.deviation);
  }
}

function indexOfMost(values: Float64Array): number {
  let most = 0;
  for (let i = 1; i < values.length; i += 1) if (values[i]! > values[most]!) most = i;
  return most;
}

function withoutSmall({ units, cells, cellOf, summed, rate, events, expected }: Fit, group: readonly number[]): Usual {
  if (rate === 0) return { rate, events: 0, exposure: exposureOf(units) - exposureOf(permute(units, group)), natures: [natures[0]!] };
  const likelihoods = summed.slice();
  let [eventsLeft, expectedLeft] = [events, expected];
  for (const index of group) {
    const cell = cells[cellOf[index]!];
    if (cell === undefined) continue;
    for (let k = 0; k < likelihoods.length; k += 1) likelihoods[k]! -= cell.likelihoods[k]!;
    eventsLeft -= cell.seen;
    expectedLeft -= cell.mean;
  }
  // What is left after a subtraction may be rounding only.
  const [left, exposure] = [Math.max(0, eventsLeft), Math.max(Number.MIN_VALUE, expectedLeft / rate)];
  return { rate: left / exposure, events: left, exposure, natures: notRuledOut(likelihoods) };
}

function exposureOf(units: readonly Counted[]): number {
  let sum = 0;
  for (const { exposure } of units) sum += exposure;
  return sum;
}

function notRuledOut(likelihoods: Float64Array): Nature[] {
  const most = likelihoods[indexOfMost(likelihoods)]!;
  const widest = new Map<string, Nature>();
  natures.forEach((one, k) => {
    if (likelihoods[k]! >= most - NOT_RULED_OUT) widest.set(one.family, one);
  });
  return [...widest.values()];
}

/** Units that are alike in count and exposure. */
interface Cell {
  units: number;
  readonly count: number;
  readonly expected: number;
  readonly scale: number;
  /** The count is cut off at this one where the level is concerned. */
  readonly most: number;
  /** By nature: the logarithm of how likely the count is. */
  readonly likelihoods: Float64Array;
  /** The cut count and its mean, weighed by how likely the unit is sound. */
  seen: number;
  mean: number;
}

interface Known {
  readonly cells: readonly Cell[];
  /** By unit; −1: it was not watched. */
  readonly cellOf: readonly number[];
  readonly summed: Float64Array;
}

function knownOf(units: readonly Counted[], rate: number, deviation: number, tried: readonly number[]): Known {
  const cells: Cell[] = [];
  const byKey = new Map<string, number>();
  const summed = new Float64Array(tried.length);
  const cellOf = units.map(({ count, exposure }) => {
    if (exposure <= 0 || rate === 0) return -1;
    const key = `${count} ${exposure}`;
    let at = byKey.get(key);
    if (at === undefined) {
      const small = tamed(count, exposure * rate);
      const most = Math.ceil(small.expected + CUT_AT * Math.sqrt(small.expected + (deviation * small.expected) ** 2)) + 1;
      at = cells.push({ units: 0, ...small, most, likelihoods: likelihoods(small.count, small.expected, tried), seen: 0, mean: 0 }) - 1;
      byKey.set(key, at);
    }
    const cell = cells[at]!;
    cell.units += 1;
    for (let i = 0; i < summed.length; i += 1) summed[i]! += cell.likelihoods[i]!;
    return at;
  });
  return { cells, cellOf, summed };
}

/** Rates at which a count is less likely than this, against the likeliest one, add nothing. */
const NEGLIGIBLE = 1e-14;

/** The logarithm of how likely a count is under natures, where one unit in so many is broken. */
function likelihoods(count: number, expected: number, tried: readonly number[]): Float64Array {
  const { rates, logRates } = spreads[0]!;
  const base = count * Math.log(expected) - logFactorial(count);
  const each = new Float64Array(rates.length);
  let most = 0;
  for (let j = 0; j < each.length; j += 1) {
    each[j] = Math.exp(base + count * logRates[j]! - expected * rates[j]!);
    if (each[j]! > most) most = each[j]!;
  }
  let [from, to] = [0, each.length];
  while (from < to && each[from]! <= NEGLIGIBLE * most) from += 1;
  while (to > from && each[to - 1]! <= NEGLIGIBLE * most) to -= 1;
  const broken = BROKEN / (SPAN * (count + 1));
  const logs = new Float64Array(tried.length);
  for (let i = 0; i < logs.length; i += 1) {
    const { shares } = spreads[tried[i]!]!;
    let total = 0;
    for (let j = from; j < to; j += 1) total += shares[j]! * each[j]!;
    logs[i] = Math.log((1 - BROKEN) * total + broken);
  }
  return logs;
}

/** The median of what units bring for their exposure, weighed by exposure: half of all exposure would have to be bad to move it far. */
function startRate(units: readonly Counted[]): number {
  const watched = units.filter(({ exposure }) => exposure > 0);
  if (watched.length === 0) return 0;
  let [count, half] = [0, 0];
  for (const one of watched) [count, half] = [count + one.count, half + one.exposure / 2];
  let passed = 0;
  const median = watched.toSorted((a, b) => a.count / a.exposure - b.count / b.exposure).find(({ exposure }) => (passed += exposure) >= half)!;
  return median.count === 0 ? count / (2 * half) : Math.min(count / (2 * half), (1.2 * median.count) / median.exposure);
}
