import { MINUTE_MS, SECOND_MS } from "../../../src/ground/units.js";

/*
 * June at an invented house with one bay, one door and one person, whose diary stops after ten days. What truly happened stands here
 * first; what the sensors and the diary say is made from it.
 */

const DAYS = 30;
const DIARY_DAYS = 10;
/** In June London is an hour ahead of UTC. */
const at = (day: number, time: string): number => Date.parse(`2026-06-${String(day).padStart(2, "0")}T${time}+01:00`);
/** Up to 25 minutes that differ from day to day, the same in every run. */
const shiftMs = (day: number, of: number): number => ((day * 7919 + of * 104_729) % 1500) * SECOND_MS;

/** When Una was out, with the vehicle: every day from about 8:00 to about 17:00. */
export const trulyOut: readonly { readonly from: number; readonly to: number }[] = Array.from({ length: DAYS }, (_, i) => ({
  from: at(i + 1, "08:00:00") + shiftMs(i, 1),
  to: at(i + 1, "17:00:00") + shiftMs(i, 2),
}));

/** Whether Una was at home for most of a time. */
export function wasHome({ from, to }: { readonly from: number; readonly to: number }): boolean {
  return trulyOut.reduce((ms, out) => ms + Math.max(0, Math.min(to, out.to) - Math.max(from, out.from)), 0) * 2 < to - from;
}

/**
 * The files of the house. On `friendDay` at noon a friend brings the vehicle back for a while, and Una's phone counts as "in" by mistake:
 * the rule unlocks, and Una is out.
 */
export function willowHouse({ wrongPerYear, friendDay }: { readonly wrongPerYear: number; readonly friendDay: number }): Readonly<Record<"site.yaml" | "log.csv" | "diary.csv", string>> {
  return { "site.yaml": siteText(wrongPerYear), "log.csv": logText(friendDay), "diary.csv": diaryText() };
}

function siteText(wrongPerYear: number): string {
  return `site: Willow House
timezone: Europe/London
sources:
  log: { files: log.csv, time: { column: at, written: iso }, signal: what, value: says }
bays: { bay: {} }
doors: { door: {} }
people: { una: {} }
signals:
  overhead: { on: bay, source: log, channel: overhead, kind: distance, unit: ft, present: [3.7, 4.7] }
  rail: { on: door, source: log, channel: rail, kind: contact, open: [open], closed: [closed] }
  phone: { on: una, source: log, channel: phone, kind: phone, here: [in], away: [out] }
rules:
  - name: unlock on arrival
    act: unlock
    when: { all: [ { signal: overhead, turned: occupied, within: 2min }, { signal: rail, is: open }, { signal: phone, turned: here, within: 10min } ] }
limits:
  confidence: 0.95
  unlock: { wrong_per_year: ${wrongPerYear}, missed_share: 0.5, within: 2min }
# kept for ten days
diary: { files: diary.csv }
`;
}

function logText(friendDay: number): string {
  const rows: [number, string, string][] = [[at(1, "00:00:00"), "overhead", "4.2"], [at(1, "00:00:00"), "rail", "closed"], [at(1, "00:00:00"), "phone", "in"]];
  const friend = { comes: at(friendDay, "12:00:00"), goes: at(friendDay, "12:20:00"), of: DAYS };
  for (const { goes, comes, of } of [...trulyOut.map(({ from, to }, i) => ({ goes: from, comes: to, of: i })), friend]) {
    const late = shiftMs(of, 3) / 25;
    rows.push([goes - MINUTE_MS, "rail", "open"], [goes, "overhead", "8.1"], [goes + 40 * SECOND_MS, "rail", "closed"], [goes + 100 * SECOND_MS + late, "phone", "out"]);
    rows.push([comes - 90 * SECOND_MS + late, "phone", "in"], [comes - 30 * SECOND_MS, "rail", "open"], [comes + 20 * SECOND_MS, "overhead", "4.2"], [comes + 80 * SECOND_MS, "rail", "closed"]);
  }
  return ["at,what,says", ...rows.sort(([a], [b]) => a - b).map(([when, what, says]) => `${new Date(when).toISOString()},${what},${says}`), ""].join("\n");
}

function diaryText(): string {
  const rows = trulyOut.slice(0, DIARY_DAYS).flatMap(({ from, to }, i) => [["here", i === 0 ? at(1, "00:00:00") : (trulyOut[i - 1]?.to ?? 0), from], ["away", from, to]] as const);
  return ["subject,state,from,to,note", ...rows.map(([state, from, to]) => `una,${state},${new Date(from).toISOString()},${new Date(to).toISOString()},`), ""].join("\n");
}
