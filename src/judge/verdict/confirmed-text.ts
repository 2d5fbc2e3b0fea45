import { sum } from "d3-array";
import { HOURS_PER_DAY } from "../../ground/units.js";
import { restsOnFirings, unverifiedTakenAsWrong, type RuleFigures } from "../evidence/figures.js";
import type { Standard } from "../rule/prepare.js";
import { actNouns, confirmedDaysText, countText, seenText } from "../rule/words.js";

/** What the bound of wrong firings rests on. */
type CountedInput = Pick<Standard, "act"> & { readonly figures: RuleFigures };

/** {@link countedOverText} inside a sentence: an aside is closed with a comma. */
export function confirmedTimeText(input: CountedInput): string {
  const text = countedOverText(input);
  return text.includes(",") ? `${text},` : text;
}

/**
 * What wrong firings were counted over: `in 20.9 confirmed days`, or why over no time at all; or all time heard, and how its firings were
 * checked.
 */
export function countedOverText(input: CountedInput): string {
  const { act, figures } = input;
  const { evidence, firings } = figures;
  const blindHours = evidence.yearsConfirmed > 0 ? null : `with nothing confirmed ${hoursText(evidence.covers.confirmedHours)}`;
  if (!restsOnFirings(figures)) return blindHours ?? `in ${confirmedDaysText(evidence.yearsConfirmed)}`;
  const { one, many } = actNouns[act];
  const time = `in ${seenText(evidence.yearsSeen)}`;
  if (firings.unverified === 0) return firings.count === 0 ? time : `${time} with every ${one} confirmed`;
  const drawn = sum(evidence.covers.checked, (list) => list.drawn);
  return drawn === 0
    ? `${time}, ${blindHours === null ? "" : `${blindHours} and `}with ${countText(firings.unverified, one, many)} that nobody confirmed counted as wrong`
    : `${time}, with ${drawn} of ${firings.count} ${many} drawn at random and confirmed`;
}

/** Firings that nobody could confirm: what they count for. Empty where there are none, or the rest of the sentence says it. */
export function unverifiedText(input: CountedInput): string {
  const { act, figures } = input;
  const { unverified } = figures.firings;
  if (unverified === 0 || restsOnFirings(figures)) return "";
  const { one, many } = actNouns[act];
  const counted = countText(unverified, one, many);
  return unverifiedTakenAsWrong(figures) > 0
    ? `${counted} could not be confirmed. The unconfirmed hours explain fewer, so ${unverified === 1 ? "it counts" : "they count"} as wrong.`
    : `${counted} could not be confirmed and ${unverified === 1 ? "counts" : "count"} neither for nor against.`;
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
