import { sum } from "d3-array";

/** ln Σ e^x over the logarithms given, without overflow. */
export function logSum(logs: readonly number[]): number {
  const top = Math.max(...logs);
  return top + Math.log(sum(logs, (one) => Math.exp(one - top)));
}
