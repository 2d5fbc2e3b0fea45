import type { Act, RuleSpec, Site } from "../../site/site.js";

/** Where the site file sets no limits for an act: two minutes, about the time one waits in front of a door. Our own choice. */
export const DEFAULT_WITHIN_MS = 120_000;

/** How far from the wanted instant a firing may be, in milliseconds. */
export interface Tolerance {
  /** A wanted instant is served when the firing comes at most this long after it. */
  readonly withinMs: number;
  /**
   * A firing this long before is right and serves too. Only for acts that let someone in: opening the door a minute
   * before the person is seen to arrive is what is wanted. Locking before the last one has left shuts someone out
   * or arms an alarm over them, so for lock and arm it is 0.
   */
  readonly earlyMs: number;
}

/** Whether the act lets someone in: a wrong one lets a stranger in. */
export function letsIn(act: Act): boolean {
  return act === "unlock" || act === "disarm";
}

/** The tolerance of a rule: the `within` of its act's limits, or {@link DEFAULT_WITHIN_MS} without limits. */
export function toleranceOf(rule: RuleSpec, site: Site): Tolerance {
  const withinMs = site.limits[rule.act]?.withinMs ?? DEFAULT_WITHIN_MS;
  return { withinMs, earlyMs: letsIn(rule.act) ? withinMs : 0 };
}
