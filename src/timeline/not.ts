import { OFF, ON, UNKNOWN, type Timeline } from "./timeline.js";

/** Kleene's negation: on and off change places, unknown stays unknown. */
export function not(x: Timeline): Timeline {
  return { ...x, states: x.states.map((state) => (state === UNKNOWN ? UNKNOWN : state === ON ? OFF : ON)) };
}
