import type { ReferenceBook } from "../truth/reference/reference.js";
import type { Act, Site } from "../site/site.js";
import { all } from "../timeline/all.js";
import { canonicalTimeline } from "../timeline/make.js";
import { not } from "../timeline/not.js";
import { overlap } from "../timeline/overlap.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../timeline/timeline.js";
import { confirmedTimeline } from "./rule/facts.js";
import { figureText, timesText } from "./rule/words.js";
import { HOUR_MS, MINUTE_SECONDS, MONTH_MS } from "../ground/units.js";
import type { Interval } from "../ground/intervals.js";
import type { HouseholdCost, RuleJudgement } from "../result/rules.js";

const pairs: readonly (readonly [opens: Act, closes: Act, state: string])[] = [
  ["unlock", "lock", "unlocked"],
  ["disarm", "arm", "disarmed"],
];

/**
 * The cost of every pair of an opening and a closing rule of the site, as if only these two were enabled. The place is
 * taken to be closed when the history begins; a firing of the one opens it until the next firing of the other, or the
 * end. At the same instant the opening one wins: open is what costs. People also come and go by hand, which no rule's
 * history shows.
 */
export function householdCosts(site: Site, rules: readonly RuleJudgement[], book: ReferenceBook, period: Interval): HouseholdCost[] {
  const people = site.subjects.filter((subject) => subject.class === "person").map(({ id }) => confirmedTimeline(book(id, [])));
  const nobodyHere = people.length === 0 ? null : all(people.map(not));
  const months = (period.to - period.from) / MONTH_MS;
  return pairs.flatMap(([opening, closing, state]) => {
    const closers = rules.filter((rule) => rule.act === closing);
    return rules
      .filter((rule) => rule.act === opening)
      .flatMap((opener) => (closers.length === 0 ? [null] : closers).map((closer) => costOf(opener, closer, nobodyHere, months, state, period)));
  });
}

function costOf(opener: RuleJudgement, closer: RuleJudgement | null, nobodyHere: Timeline | null, months: number, state: string, period: Interval): HouseholdCost {
  const lockedOut = opener.wanted.missed / months;
  const minutesWaited = opener.wantedList.reduce((total, one) => total + Math.max(0, one.delaySeconds ?? 0), 0) / MINUTE_SECONDS / months;
  const waiting = `${oftenText("locked out", lockedOut)}, ${roundText(minutesWaited)} min of waiting at the door`;
  if (closer === null) {
    const line = `A month with “${opener.name}”: ${waiting}; the site has no rule that closes again, so nobody can say how long it stands ${state} and empty.`;
    return { opens: opener.name, closes: null, openHours: null, openAndEmptyHours: null, openUnclearHours: null, lockedOut, closedOnSomebody: null, minutesWaited, line };
  }
  const open = openTimeline(opener, closer, period);
  // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- `overlap` gives nine totals, one for each pair of states
  const hours = (totals: Float64Array, states: readonly number[]): number => states.reduce((sum, other) => sum + totals[ON * 3 + other]!, 0) / HOUR_MS / months;
  const totals = nobodyHere === null ? null : overlap(open, nobodyHere);
  const openHours = hours(overlap(open, open), [ON]);
  const openAndEmptyHours = totals === null ? null : hours(totals, [ON]);
  const openUnclearHours = totals === null ? null : hours(totals, [UNKNOWN]);
  const closedOnSomebody = closer.firingList.filter((firing) => firing.outcome === "wrong" || (firing.outcome === "unverified" && firing.looks === "wrong")).length / months;
  const empty = openAndEmptyHours === null ? "" : `, of which nobody was here for ${roundText(openAndEmptyHours)} h`;
  const unclear = openUnclearHours === null || openUnclearHours < 0.05 ? "" : ` and nobody can tell for ${roundText(openUnclearHours)} h`;
  const line = `A month with “${opener.name}” and “${closer.name}”: ${state} for ${roundText(openHours)} h${empty}${unclear}; ${waiting}, ${oftenText("closed", closedOnSomebody)} while somebody was here.`;
  return { opens: opener.name, closes: closer.name, openHours, openAndEmptyHours, openUnclearHours, lockedOut, closedOnSomebody, minutesWaited, line };
}

function openTimeline(opener: RuleJudgement, closer: RuleJudgement, { from, to }: Interval): Timeline {
  const steps = [...closer.firingList.map(({ at }) => [at, OFF] as const), ...opener.firingList.map(({ at }) => [at, ON] as const)].sort((a, b) => a[0] - b[0]);
  return canonicalTimeline(from, to, [from, ...steps.map(([at]) => at)], [OFF, ...steps.map(([, open]) => open)]);
}

/** `about 340`, two significant digits; `0`. */
function roundText(amount: number): string {
  return amount === 0 ? "0" : `about ${figureText(Number(amount.toPrecision(2)))}`;
}

function oftenText(what: string, count: number): string {
  if (count === 0) return `never ${what}`;
  // Scaled to 30 days a count is no longer whole; from one on, round it.
  const whole = Math.round(count);
  if (whole === 0) return `${what} about ${figureText(Number(count.toPrecision(1)))} times`;
  const about = Math.abs(count - whole) < 1e-9 ? "" : "about ";
  return `${what} ${about}${timesText(whole)}`;
}
