import { canonicalTimeline } from "./make.js";
import { restrict } from "./restrict.js";
import type { Timeline } from "./timeline.js";

/**
 * `x` with each of the patches in its place for as long as the patch lasts. The patches lie within `x`, in order, and do
 * not overlap. Linear in the number of steps.
 * @throws RangeError when they do not.
 */
export function patched(x: Timeline, patches: readonly Timeline[]): Timeline {
  if (patches.length === 0) return x;
  const pieces: Timeline[] = [];
  let at = x.start;
  for (const patch of patches) {
    if (patch.start < at || patch.end > x.end) throw new RangeError(`A patch over [${patch.start}, ${patch.end}) does not fit into [${at}, ${x.end}).`);
    if (at < patch.start) pieces.push(restrict(x, at, patch.start));
    pieces.push(patch);
    at = patch.end;
  }
  if (at < x.end) pieces.push(restrict(x, at, x.end));
  const count = pieces.reduce((sum, { times }) => sum + times.length, 0);
  const [times, states] = [new Float64Array(count), new Uint8Array(count)];
  let written = 0;
  for (const piece of pieces) {
    times.set(piece.times, written);
    states.set(piece.states, written);
    written += piece.times.length;
  }
  return canonicalTimeline(x.start, x.end, times, states);
}
