import { canonicalTimeline } from "./make.js";
import { OFF, ON, type Timeline } from "./timeline.js";

/** `x` with unknown turned into off: a rule fails shut. */
export function collapse(x: Timeline): Timeline {
  return canonicalTimeline(
    x.start,
    x.end,
    x.times,
    x.states.map((state) => (state === ON ? ON : OFF)),
  );
}
