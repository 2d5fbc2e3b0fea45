import { steering } from "../ground/steering.js";
import type { Surroundings } from "./surroundings.js";

/** Replaces what steers a terminal: a name from a file must not move the cursor, reverse a line or start a new one. */
export function oneLine(text: string): string {
  return text.replace(steering, "\u00b7");
}

/** Goes back to the beginning of a terminal's line, and empties it. */
export const REDRAW = "\r\u001b[K";

/**
 * The same surroundings, in which nothing that is said steers a terminal, whatever stands in it; only line ends stay, and in front of a line of progress
 * {@link REDRAW}. Who says something makes names harmless by {@link oneLine}, so that they start no lines either; this is for what was forgotten, and for
 * texts of others: the parser of the command line, errors of the system.
 */
export function harmlessly(around: Surroundings): Surroundings {
  const lines = (text: string): string => text.split("\n").map(oneLine).join("\n");
  return {
    ...around,
    say: (text) => {
      around.say(lines(text));
    },
    tell: (text) => {
      around.tell(around.tellsTerminal && text.startsWith(REDRAW) ? `${REDRAW}${lines(text.slice(REDRAW.length))}` : lines(text));
    },
  };
}
