/* eslint-disable @typescript-eslint/no-non-null-assertion -- times and states run in parallel, and every part is below the width */

/** Eight heights of a bar, for terminals; the plain ones are for everything else. */
const blocks = "▁▂▃▄▅▆▇█";
const plain = ".:-=+*#@";

/** Counts as a row of bars, one character each; a blank for none. The highest count fills the height. */
export function bars(counts: readonly number[], fine: boolean): string {
  const highest = Math.max(0, ...counts);
  // Roots, so that a heap of a few readings beside one of thousands can be seen.
  return counts.map((count) => (count <= 0 ? " " : barOf(Math.sqrt(count / highest), fine))).join("");
}

/** A state over time as a row of bars: the share of each part of the time that was on; a middle dot where nothing was heard. */
export function shareBars(times: ArrayLike<number>, states: ArrayLike<number>, width: number, fine: boolean): string {
  const first = times[0] ?? 0;
  const length = (times[times.length - 1] ?? 0) - first || 1;
  const on = Array.from({ length: width }, () => 0);
  const known = Array.from({ length: width }, () => 0);
  for (let i = 0; i < times.length; i++) {
    const state = states[i]!;
    if (Number.isNaN(state)) continue;
    const part = Math.min(width - 1, Math.floor(((times[i]! - first) / length) * width));
    known[part]!++;
    on[part]! += state;
  }
  const silence = fine ? "·" : " ";
  return on.map((count, part) => (known[part] === 0 ? silence : barOf(count / known[part]!, fine))).join("");
}

/** The bar that stands for a share, 0..1, of the full height. */
function barOf(share: number, fine: boolean): string {
  const levels = fine ? blocks : plain;
  return levels.charAt(Math.min(levels.length - 1, Math.floor(share * levels.length)));
}
