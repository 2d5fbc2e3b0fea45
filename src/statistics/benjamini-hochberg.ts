import { requireShare } from "./requirements.js";

/**
 * P-values adjusted for multiple tests: if every adjusted value ≤ q raises an alarm, the expected share of false alarms
 * among the alarms is at most q, for independent (or positively dependent) tests. In the given order; no value falls;
 * equal values stay equal.
 * Source: Benjamini & Hochberg (1995), in the step-up form min over j ≥ i of m·p(j)/j, cut at 1.
 * @throws RangeError when a p-value is outside 0 to 1.
 */
export function adjustPValues(p: readonly number[]): number[] {
  for (const one of p) requireShare(one, "A p-value");
  const fromLargest = p.map((value, index) => ({ value, index })).sort((a, b) => b.value - a.value);
  const adjusted = new Array<number>(p.length).fill(1);
  let least = 1;
  fromLargest.forEach(({ value, index }, place) => {
    // The factor first: it is at least 1, so rounding cannot push the result below the value.
    least = Math.min(least, value * (p.length / (p.length - place)));
    adjusted[index] = least;
  });
  return adjusted;
}
