import { range, sum } from "d3-array";
import { clumped, type Clumped } from "../../statistics/clumps.js";
import { drawnEvidence, together } from "../../statistics/drawn.js";
import { rateEvidence } from "../../statistics/every-look.js";
import { logSum } from "../../statistics/log-sum.js";
import type { Checked } from "./checked.js";

/**
 * Two ways of counting wrong firings share the permitted error, half each: over the time in which any firing would have been confirmed,
 * and over all time heard with every firing checked, or a random draw of them. Either may be worth nothing; both are fixed beforehand.
 */
const HALF = Math.log(1 / 2);

/**
 * Within the second way: most weight on what is confirmed for certain, the rest on what a random draw shows of the others. Both are means
 * of 1 where the truth holds, and so is their mean. Our own choice.
 */
const FOR_CERTAIN = Math.log(3 / 4);
const BY_DRAW = Math.log(1 / 4);

/** Numbers of wrong firings looked at one by one; where more are open, several are looked at together. */
const MOST_NUMBERS = 60;

/** What both ways of counting rest on. Years; counts may be fractions. */
export interface FiringsCounted {
  /** Wrong firings as independent events, over the years in which any firing would have been confirmed. */
  readonly confirmed: Clumped & { readonly years: number };
  /** All firings of the years heard: those known to be wrong, by occasions, and how far the others are checked. */
  readonly heard: { readonly years: number; readonly wrongOccasions: readonly number[]; readonly checked: readonly Checked[] };
  /** The largest clump that may come next. */
  readonly unseenClump: number;
}

/** How much longer the history is supposed to be: more of the same, or more years alone, with no further wrong firing in them. */
interface Longer {
  readonly same?: number;
  readonly years?: number;
}

/** ln of the evidence against `rate` or more wrong firings a year, of the history or of a longer one. Rises with the rate. */
export type Evidence = (rate: number, longer?: Longer) => number;

/** Of both ways of counting together. */
export function firingEvidence(counted: FiringsCounted): Evidence {
  const byTime = confirmedEvidence(counted);
  const byFirings = checkedEvidence(counted);
  return (rate, longer) => logSum([HALF + byTime(rate, longer), HALF + byFirings(rate, longer)]);
}

/** Of the time in which any firing would have been confirmed alone, with its half of the permitted error. */
export function confirmedOnly(counted: FiringsCounted): Evidence {
  const byTime = confirmedEvidence(counted);
  return (rate) => HALF + byTime(rate);
}

/** Of all time heard alone, with its half of the permitted error. */
export function checkedOnly(counted: FiringsCounted): Evidence {
  const byFirings = checkedEvidence(counted);
  return (rate) => HALF + byFirings(rate);
}

/** Of the time in which any firing would have been confirmed. */
function confirmedEvidence({ confirmed: { count, factor, years } }: FiringsCounted): Evidence {
  return (rate, { same = 1, years: more = 1 } = {}) => rateEvidence(count * same, (rate * years * same * more) / factor);
}

/**
 * Of all time heard: for each number of wrong firings that the draws leave open, how much they speak against it and how much it speaks
 * against the rate; the number that speaks least decides.
 */
function checkedEvidence({ heard: { years, wrongOccasions, checked }, unseenClump }: FiringsCounted): Evidence {
  const numbers = openNumbers(checked).map(({ more, evidence }) => ({ ...clumped([...wrongOccasions, ...new Array<number>(more).fill(1)], unseenClump), evidence }));
  return (rate, { same = 1, years: longer = 1 } = {}) =>
    Math.min(...numbers.map(({ count, factor, evidence }) => evidence * same + rateEvidence(count * same, (rate * years * same * longer) / factor)));
}

/**
 * The numbers of unverified firings that may be wrong, and how much the draws speak against each. A larger number speaks less against a
 * rate, so a number is left out if the draws allow a larger one just as well. Where there are many, neighbours are taken together and
 * stand for the largest of them.
 */
function openNumbers(checked: readonly Checked[]): { readonly more: number; readonly evidence: number }[] {
  // Lists without a draw say nothing of how many are wrong: one list as good as all of them.
  const undrawn = sum(checked, ({ drawn, unverified }) => (drawn === 0 ? unverified : 0));
  const lists = checked.filter(({ drawn }) => drawn > 0).map(evidenceByMore);
  const evidence = [...lists, new Array<number>(undrawn + 1).fill(0)].reduce(together, [0]).map((one) => (one === Infinity ? one : logSum([FOR_CERTAIN, BY_DRAW + one])));
  const from = evidence.lastIndexOf(Math.min(...evidence));
  const step = Math.ceil((evidence.length - from) / MOST_NUMBERS);
  return range(from, evidence.length, step).map((least) => {
    const group = evidence.slice(least, least + step);
    return { more: least + group.length - 1, evidence: Math.min(...group) };
  });
}

/** By the number of wrong ones among the unverified. */
function evidenceByMore({ firings, drawn, wrongDrawn, wrong, unverified }: Checked): number[] {
  return drawnEvidence({ all: firings, drawn, bad: wrongDrawn }).slice(wrong, wrong + unverified + 1);
}
