import type { Placing } from "./found.js";
import type { HomeFound } from "./home.js";
import { FILL_IN, type YamlLines } from "./yaml-lines.js";

/** Writes `home:` if a signal needs it: the place proposed, to be confirmed, or a gap to fill in. */
export function writeHome(lines: YamlLines, placings: readonly Placing[], home: HomeFound | null): void {
  if (!placings.some(({ signal }) => signal.reading.form === "position")) return;
  if (home === null) {
    lines.ask(0, "where is home? In degrees. No export tells", `home: { latitude: ${FILL_IN}, longitude: ${FILL_IN} }`);
    return;
  }
  lines.note(0, "PRIVATE: the next line says where somebody lives. No report repeats it; take care to whom you give this file.");
  lines.note(0, home.evidence);
  lines.ask(
    0,
    "is the place in the site file home? It is the one where most of the time is spent at rest, which may be a place of work; " +
      "rounded to 4 decimals, about 11 m",
    `home: { latitude: ${home.latitude}, longitude: ${home.longitude} }`,
  );
}
