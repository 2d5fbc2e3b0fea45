import { ON, type Timeline } from "./timeline.js";

/** The instants at which `x` becomes on from anything else, in order. Being on at `start` is no rise. */
export function rises(x: Timeline): Float64Array {
  return x.times.filter((_, i) => i > 0 && x.states[i] === ON);
}
