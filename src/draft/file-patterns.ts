import { fitsPattern } from "../intake/fits-pattern.js";

/** Months by name in English, German, French and Spanish, long and short. */
const monthNames =
  "january|february|march|april|may|june|july|august|september|october|november|december|jan|feb|mar|apr|jun|jul|aug|sept|sep|oct|nov|dec|" +
  "januar|jänner|februar|märz|mai|juni|juli|oktober|dezember|mrz|okt|dez|" +
  "janvier|février|mars|avril|juin|juillet|août|septembre|octobre|novembre|décembre|" +
  "enero|febrero|marzo|abril|mayo|junio|julio|agosto|septiembre|octubre|noviembre|diciembre";
const YEAR = String.raw`(?:19|20)\d\d`;
const BREAK = String.raw`[-_. ]?`;

/** Parts of a name that next month's will have otherwise: dates, months with a year, and a number in brackets at the end. */
const passing = [
  String.raw`(?<!\d)\d{1,2}[-_.](?:\d{1,2}[-_.])?${YEAR}(?!\d)`,
  String.raw`(?<!\d)${YEAR}${BREAK}(?:0[1-9]|1[0-2])(?:${BREAK}(?:0[1-9]|[12]\d|3[01]))?(?:[-_. T]\d{2}[-_.:h]?\d{2}(?:[-_.:]?\d{2})?)?(?!\d)`,
  String.raw`(?<!\p{L})(?:${monthNames})(?!\p{L})${BREAK}${YEAR}(?!\d)`,
  String.raw`(?<!\d)${YEAR}${BREAK}(?:${monthNames})(?!\p{L})`,
  String.raw`(?<=^|/)(?:${monthNames}|${YEAR})(?=$|/|\.)`,
  String.raw`(?<!\d)${YEAR}[-_ ]?[wq]\d{1,2}(?!\d)`,
  String.raw`(?<=[-_ ])${YEAR}(?=$|[-_. /])`,
  String.raw`[-_ ]?\(\d{1,3}\)(?=\.|$)`,
].join("|");

/** A path with a `*` for every part that next month's will have otherwise: `wall bay 1 *.csv` of `wall bay 1 2026-10.csv`. */
export function undated(path: string): string {
  return path.replace(new RegExp(passing, "giu"), "*").replace(/\*(?:[-_. ]*\*)+/g, "*");
}

/**
 * The paths of a source as the site file gives them. Dates and months become a `*`, and so do digits in which several names differ, so
 * that next month's file is read too; unless the pattern would take in a file of another source.
 */
export function filePatterns(names: readonly string[], others: readonly string[]): string[] {
  const groups = new Map<string, string[]>();
  for (const name of names) {
    const key = undated(name);
    groups.set(key, [...(groups.get(key) ?? []), name]);
  }
  return [...byDigits([...groups])].flatMap(([pattern, members]) => {
    if (!pattern.includes("*")) return members;
    const safe = pattern.replace(/[[\]{}()!+@\\]/g, "?");
    return others.some((other) => fitsPattern(other, safe)) ? members : [safe];
  });
}

/** Groups of one name each are joined where the names differ in their last part's digits only. */
function byDigits(groups: readonly (readonly [string, readonly string[]])[]): Map<string, readonly string[]> {
  const joined = new Map<string, (readonly [string, readonly string[]])[]>();
  for (const one of groups) {
    const slash = one[0].lastIndexOf("/") + 1;
    const key = one[0].slice(0, slash) + one[0].slice(slash).replace(/\d+(?:[-_.]?\d+)*/g, "*").replace(/\*(?:[-_. ]*\*)+/g, "*");
    joined.set(key, [...(joined.get(key) ?? []), one]);
  }
  return new Map(
    [...joined].flatMap(([key, members]) => (members.length > 1 ? [[key, members.flatMap(([, names]) => names)] as const] : members)),
  );
}
