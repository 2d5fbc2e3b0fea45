import { pathText } from "./check-shape.js";
import { quoted } from "./complaints.js";
import type { SiteDraft } from "./draft.js";
import { acts } from "./shape.js";
import type { Act, ActLimits, Site } from "./site.js";

/** What the user accepts, by act. Complains where an act has neither or both of the two ways to say how often a firing may be wrong. */
export function buildLimits({ site, complaints }: SiteDraft): Site["limits"] {
  const limits: Partial<Record<Act, ActLimits>> = {};
  for (const act of acts) {
    const written = site.limits?.[act];
    if (written === undefined) continue;
    const { wrong_per_year, at_most } = written;
    const wrongPerYear = wrong_per_year ?? at_most?.perYear;
    if (wrongPerYear === undefined || (wrong_per_year !== undefined && at_most !== undefined)) {
      const path = ["limits", act];
      complaints.atKey(path, {
        code: "site-shape", what: `${pathText(path)} needs one of ${quoted("wrong_per_year")} and ${quoted("at_most")}`,
        expected: `"wrong_per_year: 0.5" or "at_most: once in 2 years"`, found: wrongPerYear === undefined ? "neither" : "both",
      });
    } else limits[act] = { wrongPerYear, missedShare: written.missed_share, withinMs: written.within, ...(at_most === undefined ? {} : { inWords: at_most.words }) };
  }
  return limits;
}
