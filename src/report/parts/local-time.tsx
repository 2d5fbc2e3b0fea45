import type { JSX } from "preact";
import { isoText } from "../../result/values.js";
import type { LocalClock } from "../local-time.js";

/** An instant in the site's own time, with the exact one for machines. */
export function LocalTime({ at, clock }: { at: number; clock: LocalClock }): JSX.Element {
  return <time datetime={isoText(at)}>{clock.moment(at)}</time>;
}
