import { pathText } from "./check-shape.js";
import { quoted } from "./complaints.js";
import { MINUTE_MS } from "../ground/units.js";
import type { SiteDraft } from "./draft.js";
import { acts } from "./shape.js";
import type { Act, ActLimits, SensorLimits, Site } from "./site.js";

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

/** One in twenty wrong or silent, two minutes late: what a person would want to see. Our own choice. */
export const DEFAULT_SENSOR_LIMITS: SensorLimits = { missedShare: 0.05, falseShare: 0.05, silentShare: 0.05, lateMs: 2 * MINUTE_MS };

/** What is accepted of a sensor, as a site or fleet file writes it; what is not written is as usual. */
export function sensorLimitsOf(written: { missed_share?: number | undefined; false_share?: number | undefined; silent_share?: number | undefined; late?: number | undefined } = {}): SensorLimits {
  const usual = DEFAULT_SENSOR_LIMITS;
  return {
    missedShare: written.missed_share ?? usual.missedShare,
    falseShare: written.false_share ?? usual.falseShare,
    silentShare: written.silent_share ?? usual.silentShare,
    lateMs: written.late ?? usual.lateMs,
  };
}
