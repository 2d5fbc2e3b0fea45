import { capitalised } from "../../ground/first-letter.js";
import { groups, sum } from "d3-array";
import { countText, listText, numberText, percentText } from "../../judge/rule/words.js";
import type { Fleet, WorkOrder } from "../../result/fleet.js";
import type { Upkeep } from "../../result/upkeep.js";

/** What the sentences are made from. */
interface Told extends Pick<Fleet, "orders" | "seen" | "nights" | "absent" | "belongs"> {
  readonly limits: Upkeep["limits"] | undefined;
  readonly days: number;
  readonly months: number;
}

/** What the page says, in sentences that stand in fleet.json. */
export function sayOf(told: Told): Fleet["say"] {
  return { headline: headlineOf(told), trust: trustOf(told), found: foundOf(told), hide: hideOf(told), since: sinceOf(told), cost: costOf(told) };
}

function headlineOf({ orders, absent, belongs }: Told): string {
  const open = orders.filter(({ state }) => state !== "mended");
  const of = (kind: WorkOrder["kind"]): number => open.filter((one) => one.kind === kind).length;
  const [exports, places, updates] = [of("export"), of("place"), of("update")];
  const missing = absent.length === 0 ? [] : [`${capitalised(numberText(absent.length))} of ${Math.max(belongs.length, absent.length)} sites ${absent.length === 1 ? "is" : "are"} missing.`];
  if (open.length === 0) return [...missing, missing.length === 0 ? "Nobody needs to go anywhere: nothing stands out." : "Of the others nothing stands out."].join(" ");
  return [
    ...missing,
    ...(exports === 0 ? [] : [`Ask for ${exports === 1 ? "one export" : `${numberText(exports)} exports`} again.`]),
    ...(places === 0 ? [] : [`Visit ${places === 1 ? "one place" : `${numberText(places)} places`}.`]),
    ...(updates === 0 ? [] : [`Update ${updates === 1 ? "one make" : `${numberText(updates)} makes`}.`]),
  ].join(" ");
}

function trustOf({ seen, days, orders, absent }: Told): string {
  const nothing = orders.some(({ state }) => state !== "mended") ? "Nothing else stands out" : "Nothing stands out";
  const short = [
    ...(seen.never === 0 ? [] : [`${numberText(seen.never)} ${seen.never === 1 ? "was" : "were"} never heard`]),
    ...(seen.part === 0 ? [] : [`${numberText(seen.part)} for a part of it`]),
  ];
  const whole = absent.length === 0 ? "" : ` ${capitalised(listText(absent.map(({ site }) => site)))} ${absent.length === 1 ? "is" : "are"} not among them: ${absent.map(({ why }) => why).join("; ")}.`;
  return `${nothing} among ${countText(seen.sensors, "sensor", "sensors")} over ${days} days and ${countText(seen.turns, "change", "changes")}${short.length === 0 ? "" : `; ${listText(short)}`}.${whole}`;
}

function foundOf({ seen, limits }: Told): string {
  const silence = limits === undefined ? "" : ` Always: one that is silent for more than ${percentText(limits.silentShare)} of the time, or mostly more than ${Math.round(limits.lateSeconds / 6) / 10} min late.`;
  if (seen.foundShare === null) return `No change could be judged, so only silence and contradiction would show.${silence}`;
  return `Nine times in ten, a sensor that passes over ${percentText(seen.foundShare)} of its visits, if it sees ${seen.usualTurns} changes as is usual here.${silence}`;
}

function hideOf({ seen }: Told): string {
  const hidden = [
    ...(seen.few === 0 ? [] : [`${countText(seen.few, "sensor", "sensors")} saw fewer than ${seen.fewerThan} changes`]),
    ...(seen.unchecked === 0 ? [] : [`${countText(seen.unchecked, "sensor is", "sensors are")} checked by one other at most: two that are wrong together would pass, and a diary would tell`]),
  ];
  return hidden.length === 0 ? "Every sensor saw enough and is checked by two others or a diary." : `${capitalised(listText(hidden))}.`;
}

function sinceOf({ orders, months }: Told): string {
  if (months < 2) return "There is no audit of a month before, so everything is new.";
  const of = (state: WorkOrder["state"]): string => {
    const count = orders.filter((one) => one.state === state).length;
    return count === 0 ? "none" : numberText(count);
  };
  return `${capitalised(of("new"))} new, ${of("open")} still open, ${of("mended")} mended since the month before.`;
}

function costOf({ nights, orders }: Told): string[] {
  const kindOf = new Map(orders.map(({ key, kind }) => [key, kind]));
  return groups(nights, ({ rule }) => rule).map(([rule, of]) => {
    const days = of.flatMap((one) => one.days);
    const judged = days.filter(({ outcome }) => outcome !== "unjudged");
    const lost = days.filter(({ outcome }) => outcome === "failed" || outcome === "wrong");
    const by = (kind: WorkOrder["kind"]): number => sum(lost, ({ orders: keys }) => Number(keys.some((key) => kindOf.get(key) === kind)));
    const [places, makes] = [by("place"), sum(lost, ({ orders: keys }) => Number(keys.length > 0 && keys.every((key) => kindOf.get(key) === "update")))];
    const slips = lost.filter(({ orders: keys, signals }) => keys.length === 0 && signals.length > 0).length;
    const nobodys = lost.filter(({ signals }) => signals.length === 0).length;
    const parts = [
      ...(places === 0 ? [] : [`${places} by listed places`]),
      ...(makes === 0 ? [] : [`${makes} by a make`]),
      ...(slips === 0 ? [] : [`${slips} by single slips`]),
      ...(nobodys === 0 ? [] : [`${nobodys} by no sensor's fault`]),
    ];
    const hidden = days.length - judged.length;
    return `“${rule}” went wrong on ${lost.length} of ${countText(judged.length, "day", "days")}${parts.length === 0 ? "" : `: ${listText(parts)}`}.${hidden === 0 ? "" : ` ${hidden} more cannot be judged, as an export falls short.`}`;
  });
}
