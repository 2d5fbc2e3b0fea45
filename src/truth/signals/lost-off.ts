import { MINUTE_MS } from "../../ground/units.js";
import { medianOf } from "../../statistics/median.js";
import { OFF, ON } from "../../timeline/timeline.js";
import { endedAfter, type Said, untilNext } from "./said.js";

/** Fewer stretches from "on" to "off" do not tell how long they usually last. Our own choice. */
const FEWEST_WHOLE = 20;
/** Where so long a stretch lies between more than this part of its "on", the sensor repeats itself: nothing was lost. Our own choice. */
const MOST_LOST = 0.1;
/** Where "on" is said again after more than twenty times its usual length, and more than a quarter of an hour, it had ended in between. Our own choices. */
const LONG_FACTOR = 20;
const LEAST_LOST_MS = 15 * MINUTE_MS;

/**
 * Puts back the "off" that a movement sensor's export has lost: it says "on", and hours later "on" again, which it only does anew. Such a stretch ends
 * after its usual length, else one lost word would prove that somebody was at home all day. As can be said afterwards: a rule of the time saw "on".
 */
export function withLostOffs(said: Said): Said {
  const { states } = said;
  const ons = [...states.keys()].filter((i) => states[i] === ON);
  const whole = ons.filter((i) => states[i - 1] !== ON && states[i + 1] === OFF).map((i) => untilNext(said, i));
  const usualMs = medianOf(whole);
  if (usualMs === null || whole.length < FEWEST_WHOLE) return said;
  const lost = new Set(ons.filter((i) => states[i + 1] === ON && untilNext(said, i) > Math.max(LEAST_LOST_MS, LONG_FACTOR * usualMs)));
  if (lost.size === 0 || lost.size > MOST_LOST * ons.length) return said;
  return endedAfter(said, (i) => lost.has(i), usualMs);
}
