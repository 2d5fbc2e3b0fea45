import { isPlace } from "../intake/place.js";
import type { Placing } from "./found.js";
import type { HomeFound } from "./home.js";
import type { Answers } from "./questions.js";
import { FILL_IN, type YamlLines } from "./yaml-lines.js";

/** Writes `home:` if a signal needs it: the place proposed, to be confirmed, or a gap to fill in. */
export function writeHome(lines: YamlLines, placings: readonly Placing[], home: HomeFound | null, answers: Answers): void {
  if (!placings.some(({ signal }) => signal.reading.form === "position")) return;
  const said = placeSaid(answers.get("home") ?? "");
  if (said !== null) {
    lines.note(0, "PRIVATE: the next line says where somebody lives. No report repeats it; take care to whom you give this file.");
    lines.add(`home: { latitude: ${said[0]}, longitude: ${said[1]} }`);
    return;
  }
  if (home === null) {
    const asks = { id: "home", text: "where is home? In degrees. No export tells", choices: [], typed: typedPlace, weight: "blocks" } as const;
    lines.ask(0, asks, `home: { latitude: ${FILL_IN}, longitude: ${FILL_IN} }`);
    return;
  }
  lines.note(0, "PRIVATE: the next line says where somebody lives. No report repeats it; take care to whom you give this file.");
  lines.note(0, home.evidence);
  const proposed = `${home.latitude}, ${home.longitude}`;
  const text =
    "is the place in the site file home? It is the one where most of the time is spent at rest, which may be a place of work; " +
    "rounded to 4 decimals, about 11 m";
  lines.ask(
    0,
    { id: "home", text, choices: [{ answer: proposed, says: "Yes: take that place; it stands in the site file and is not shown here" }], typed: typedPlace, weight: "stands in" },
    `home: { latitude: ${home.latitude}, longitude: ${home.longitude} }`,
  );
}

const typedPlace = { expected: "latitude and longitude in degrees, such as 48.2, 16.37", fits: (text: string) => placeSaid(text) !== null };

function placeSaid(text: string): readonly [number, number] | null {
  const [latitude, longitude, ...others] = text.split(/[,;\s]+/).filter((part) => part !== "").map(Number);
  return latitude !== undefined && longitude !== undefined && others.length === 0 && isPlace(latitude, longitude) ? [latitude, longitude] : null;
}
