/* eslint-disable @typescript-eslint/no-non-null-assertion -- the table is square (`requireSquare`), and every index runs below its size */
import { sum } from "d3-array";
import { normalDeviate } from "./distributions.js";
import { requireAmount, requireConfidence } from "./requirements.js";
import type { Estimate } from "../result/estimate.js";

/**
 * Cohen's unweighted kappa, agreement beyond chance, from a square table of counts (`table[i][j]`: one said i, the
 * other j). The interval is value ± z standard errors, cut to −1…1. The large-sample standard error does not assume
 * that kappa is 0: it is an approximation, unlike the exact intervals elsewhere. No value for an empty table, or when
 * both always said the same one thing. No interval when the standard error is 0 (perfect agreement), which would look
 * like certainty.
 * Source: Cohen (1960); Fleiss, Cohen & Everitt (1969) for the standard error.
 * @throws RangeError when the table is empty or not square, a count is negative or not finite, or the confidence is not
 * between 0 and 1.
 */
export function kappaEstimate(table: readonly (readonly number[])[], confidence: number): Estimate {
  requireConfidence(confidence);
  requireSquare(table);
  const size = table.length;
  const rows = table.map((row) => sum(row));
  const columns = table.map((_, j) => sum(table.map((row) => row[j]!)));
  const total = sum(rows);
  const none = { value: null, low: null, high: null, count: total, unit: "kappa" };
  if (total === 0) return { ...none, why: "nothing was compared" };

  const share = (i: number, j: number): number => table[i]![j]! / total;
  const ranks = Array.from({ length: size }, (_, i) => i);
  const byChance = sum(ranks.map((i) => (rows[i]! * columns[i]!) / total ** 2));
  if (rows.includes(total) && columns.includes(total) && byChance > 0) return { ...none, why: "both always said the same: chance alone would agree as well" };
  const agreed = sum(ranks.map((i) => share(i, i)));
  const kappa = (agreed - byChance) / (1 - byChance);

  const beside = 1 - kappa;
  let spread = -((kappa - byChance * beside) ** 2);
  for (const i of ranks) {
    for (const j of ranks) {
      const margins = i === j ? (rows[i]! + columns[i]!) / total : (columns[i]! + rows[j]!) / total;
      spread += share(i, j) * (i === j ? 1 - margins * beside : margins * beside) ** 2;
    }
  }
  const error = Math.sqrt(Math.max(0, spread) / total) / (1 - byChance);
  if (error < 1e-9) return { ...none, value: kappa, why: "no interval: the approximation has no width here" };
  const half = normalDeviate(confidence) * error;
  return { ...none, value: kappa, low: Math.max(-1, kappa - half), high: Math.min(1, kappa + half), why: null };
}

function requireSquare(table: readonly (readonly number[])[]): void {
  if (table.length === 0 || table.some((row) => row.length !== table.length)) throw new RangeError("Kappa needs a square table of counts.");
  for (const row of table) for (const count of row) requireAmount(count, "A count");
}
