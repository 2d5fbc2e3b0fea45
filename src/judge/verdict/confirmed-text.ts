import { HOURS_PER_DAY } from "../../ground/units.js";
import type { Act } from "../../site/site.js";
import { unverifiedTakenAsWrong, type RuleFigures } from "../evidence/figures.js";
import { actNouns, countText, seenText } from "../rule/words.js";

/** What wrong firings were counted over: `in 20.9 confirmed days`, or why over no time at all. */
export function confirmedTimeText({ evidence }: RuleFigures): string {
  return evidence.yearsConfirmed > 0 ? `in ${seenText(evidence.yearsConfirmed).replace(/(days?|years)$/, "confirmed $1")}` : `with nobody to confirm anything ${hoursText(evidence.covers.confirmedHours)}`;
}

/** Firings that nobody could confirm: what they count for. Empty where there are none. */
export function unverifiedText(act: Act, figures: RuleFigures): string {
  const { unverified } = figures.firings;
  if (unverified === 0) return "";
  const { one, many } = actNouns[act];
  const counted = countText(unverified, one, many);
  return unverifiedTakenAsWrong(figures) > 0
    ? `${counted} could not be confirmed, more than the hours in which nobody could tell explain, so ${unverified === 1 ? "it is" : "they are"} taken as wrong.`
    : `${counted} came when nobody could tell, and ${unverified === 1 ? "counts" : "count"} neither for nor against.`;
}

/** `at any hour`, or `from 22:00 to 06:00`: the hours that were never confirmed, each run of them once. */
function hoursText(confirmedHours: readonly number[]): string {
  const never = Array.from({ length: HOURS_PER_DAY }, (_, hour) => (confirmedHours[hour] ?? 0) === 0);
  if (never.every(Boolean)) return "at any hour";
  const runs = never.flatMap((none, hour) => {
    if (!none || never[(hour + HOURS_PER_DAY - 1) % HOURS_PER_DAY] === true) return [];
    let end = hour;
    while (never[end % HOURS_PER_DAY] === true) end += 1;
    return [`from ${clock(hour)} to ${clock(end)}`];
  });
  return runs.join(" and ");
}

function clock(hour: number): string {
  return `${String(hour % HOURS_PER_DAY).padStart(2, "0")}:00`;
}
