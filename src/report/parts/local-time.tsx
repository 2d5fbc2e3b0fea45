import { createContext, type JSX } from "preact";
import { useContext } from "preact/hooks";
import { isoText } from "../../result/values.js";
import { localClock, type LocalClock } from "../local-time.js";

/** The clock that the page's times are written by; UTC unless a page provides its own. */
export const Clock = createContext<LocalClock>(localClock("UTC"));

/** The clock of the page. */
export function useClock(): LocalClock {
  return useContext(Clock);
}

/** An instant in the site's own time, with the exact one for machines. */
export function LocalTime({ at }: { at: number }): JSX.Element {
  return <time datetime={isoText(at)}>{useClock().moment(at)}</time>;
}
