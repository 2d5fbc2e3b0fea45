import type { JSX } from "preact";
import type { LocalClock } from "../local-time.js";

/** An instant in the site's own time, with the exact one for machines. */
export function LocalTime({ at, clock }: { at: string; clock: LocalClock }): JSX.Element {
  return <time datetime={at}>{clock.moment(Date.parse(at))}</time>;
}
