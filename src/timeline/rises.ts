import { ON, type Timeline } from "./timeline.js";

/** The instants at which `x` becomes on, from off or from unknown, in order. Being on at `start` does not count. */
export function rises(x: Timeline): Float64Array {
  return x.times.filter((_, i) => i > 0 && x.states[i] === ON);
}
