/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps, and a timeline has at least one step */
import { canonicalTimeline } from "./make.js";
import { OFF, ON, UNKNOWN, type Timeline } from "./timeline.js";

/**
 * On where at least `k` of the timelines are on, off where too many are off to reach `k`, else unknown. Off throughout
 * when `k` is larger than the number of timelines. Steps are merged pairwise: the time is the number of steps times the
 * logarithm of the number of timelines.
 * @throws RangeError when there is no timeline, they do not share start and end, or `k` is not a whole number of 1 or
 * more (a quorum of 0 would always be met).
 */
export function atLeast(k: number, xs: readonly Timeline[]): Timeline {
  if (!Number.isInteger(k) || k < 1) throw new RangeError(`A quorum is a whole number of 1 or more, not ${k}.`);
  const first = requireSharedExtent(xs);
  // Those that never change are counted without being merged.
  const moving: Timeline[] = [];
  let [neededOns, mostOffs] = [k, xs.length - k];
  for (const x of xs) {
    if (x.times.length > 1) moving.push(x);
    else if (x.states[0] === ON) neededOns -= 1;
    else if (x.states[0] === OFF) mostOffs -= 1;
  }
  const stateOf = (on: number, off: number): number => (on >= neededOns ? ON : off > mostOffs ? OFF : UNKNOWN);
  if (moving.length === 0) return canonicalTimeline(first.start, first.end, [first.start], [stateOf(0, 0)]);
  const { times, on, off } = countStates(moving);
  const states = new Uint8Array(times.length);
  for (let i = 0; i < times.length; i += 1) states[i] = stateOf(on[i]!, off[i]!);
  return canonicalTimeline(first.start, first.end, times, states);
}

/**
 * The first of several timelines, after a check that all cover the same time.
 * @throws RangeError when there is no timeline, or they do not share start and end.
 */
export function requireSharedExtent(xs: readonly Timeline[]): Timeline {
  const first = xs[0];
  if (first === undefined) throw new RangeError("At least one timeline is needed.");
  const stranger = xs.find((x) => x.start !== first.start || x.end !== first.end);
  if (stranger !== undefined) {
    throw new RangeError(`Timelines must cover the same time: [${first.start}, ${first.end}) and [${stranger.start}, ${stranger.end}).`);
  }
  return first;
}

/** `on[i]` timelines are on and `off[i]` are off on `[times[i], times[i + 1])`. */
interface StateCounts {
  readonly times: Float64Array;
  readonly on: Int32Array;
  readonly off: Int32Array;
}

function countStates(xs: readonly Timeline[]): StateCounts {
  if (xs.length === 1) {
    const x = xs[0]!;
    const on = new Int32Array(x.states.length);
    const off = new Int32Array(x.states.length);
    for (let i = 0; i < x.states.length; i += 1) {
      if (x.states[i] === ON) on[i] = 1;
      if (x.states[i] === OFF) off[i] = 1;
    }
    return { times: x.times, on, off };
  }
  const half = xs.length >>> 1;
  return addCounts(countStates(xs.slice(0, half)), countStates(xs.slice(half)));
}

/** Adds two counts. Both begin at the shared start, so `i` and `j` are at least 1 after the first step. */
function addCounts(a: StateCounts, b: StateCounts): StateCounts {
  const most = a.times.length + b.times.length;
  const times = new Float64Array(most);
  const on = new Int32Array(most);
  const off = new Int32Array(most);
  let count = 0;
  let i = 0;
  let j = 0;
  while (i < a.times.length || j < b.times.length) {
    const nextA = i < a.times.length ? a.times[i]! : Infinity;
    const nextB = j < b.times.length ? b.times[j]! : Infinity;
    const at = Math.min(nextA, nextB);
    if (nextA === at) i += 1;
    if (nextB === at) j += 1;
    times[count] = at;
    on[count] = a.on[i - 1]! + b.on[j - 1]!;
    off[count] = a.off[i - 1]! + b.off[j - 1]!;
    count += 1;
  }
  return { times: times.subarray(0, count), on: on.subarray(0, count), off: off.subarray(0, count) };
}
