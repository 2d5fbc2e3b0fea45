import { DAY_MS } from "../../ground/units.js";
import type { Site } from "../../site/site.js";
import { UNKNOWN } from "../../timeline/timeline.js";
import type { SignalAccount } from "./account.js";
import type { Interval } from "../../ground/intervals.js";
import { lookUp } from "../../ground/look-up.js";

/** A bay or person of which no signal ever changed. */
interface Motionless {
  readonly subject: string;
  readonly state: 0 | 1;
}

/** In shorter periods it is no surprise (milliseconds): people and vehicles stay away for a week. Our own choice. */
const LEAST_PERIOD_MS = 14 * DAY_MS;
/** This many changes of another signal show that the house was in use. Our own choice. */
const FEWEST_OTHER_TURNS = 4;

/**
 * Bays and persons whose signals said one and the same state for a whole period of two weeks or more, although other
 * subjects moved. A subject of which nothing is known is not among them.
 */
export function motionless(
  site: Pick<Site, "signals" | "subjects">,
  accounts: ReadonlyMap<string, SignalAccount>,
  period: Interval,
): Motionless[] {
  if (period.to - period.from < LEAST_PERIOD_MS) return [];
  const turns = new Map(site.signals.map(({ id }) => [id, turnCount(accounts.get(id))]));
  return site.subjects.flatMap(({ id, class: subjectClass }): Motionless[] => {
    const own = site.signals.filter(({ subject, kind }) => subject === id && kind !== "stir");
    if (subjectClass === "door" || own.some((one) => lookUp(turns, one.id) > 0)) return [];
    const states = new Set(own.flatMap((one) => [...(accounts.get(one.id)?.account.states ?? [])]).filter((state) => state !== UNKNOWN));
    const othersMoved = site.signals.some((one) => one.subject !== id && lookUp(turns, one.id) >= FEWEST_OTHER_TURNS);
    return states.size === 1 && othersMoved ? [{ subject: id, state: [...states][0] as 0 | 1 }] : [];
  });
}

/** Changes between the known states, whatever lies between. */
function turnCount(account: SignalAccount | undefined): number {
  const known = [...(account?.account.states ?? [])].filter((state) => state !== UNKNOWN);
  return known.filter((state, i) => i > 0 && state !== known[i - 1]).length;
}
