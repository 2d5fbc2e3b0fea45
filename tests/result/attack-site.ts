import { DateTime } from "luxon";

/** A month at an invented house, in which the clocks change, with somebody coming and going in that very hour. */
export interface AttackedMonth {
  readonly zone: string;
  /** Such as `2026-10`. */
  readonly month: string;
  /** The instant of the clock change, epoch milliseconds. */
  readonly change: number;
}

/** One bay of one letter, one door, one person; the logs are in local time without offset, one a day of UTC. */
export const attackedSite = (zone: string): string => `site: Otter Cottage
timezone: ${zone}
diary: { files: diary.csv }
sources:
  log: { files: "log-*.csv", time: { column: at, written: iso }, signal: what, value: says }
bays: { A: {} }
doors: { door: {} }
people: { ida: {} }
signals:
  overhead: { on: A, source: log, channel: overhead, kind: distance, unit: ft, present: [3.7, 4.7], empty: [7, 9], expect: 10min }
  wall: { on: A, source: log, channel: wall, kind: distance, unit: in, present: [10, 40], empty: [80, 130], expect: 10min }
  rail: { on: door, source: log, channel: rail, kind: contact, open: [open], closed: [closed] }
  phone: { on: ida, source: log, channel: phone, kind: phone, here: [in], away: [out] }
rules:
  - name: unlock on arrival
    act: unlock
    when: { all: [ { signal: overhead, turned: occupied, within: 2min }, { signal: phone, turned: here, within: 10min } ] }
    right_when: { all: [ { subject: A, turned: occupied, within: 3min }, { subject: ida, turned: here, within: 15min } ] }
limits:
  confidence: 0.95
  unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min }
`;

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** The exports by file name. Away at 08:00 local time, home at 17:00; at weekends away at 10:00 only. */
export function attackedLogs({ zone, month, change }: AttackedMonth): Record<string, string> {
  const begin = DateTime.fromISO(`${month}-01T00:00:00`, { zone });
  const end = begin.plus({ months: 1 });
  const rows: { at: number; what: string; says: string }[] = [];
  const add = (at: number, what: string, says: string): void => void rows.push({ at, what, says });
  const turns: { at: number; home: boolean }[] = [{ at: begin.toMillis(), home: true }];
  for (let day = begin; day < end; day = day.plus({ days: 1 })) {
    const jitter = ((day.day * 7919) % 300) * 1000;
    turns.push({ at: day.set({ hour: day.weekday > 5 ? 10 : 8 }).toMillis() + jitter, home: false }, { at: day.set({ hour: 17 }).toMillis() + jitter, home: true });
  }
  turns.push({ at: change - 150 * MINUTE_MS, home: false }, { at: change - 20 * MINUTE_MS, home: true }, { at: change + 15 * MINUTE_MS, home: false }, { at: change + 130 * MINUTE_MS, home: true });
  turns.sort((a, b) => a.at - b.at);
  const diary = ["subject,state,from,to"];
  for (const [i, { at, home }] of turns.entries()) {
    const late = [3, 17, 8, 26, 12][i % 5]! * 1000;
    add(at + late, "phone", home ? "in" : "out");
    add(at + 60_000, "rail", "open");
    add(at + 90_000 - late, "overhead", home ? "4.2" : "8.1");
    add(at + 100_000 + (i % 3) * 4000, "wall", home ? "20" : "110");
    add(at + 180_000, "rail", "closed");
    const [from, to] = [at + 200_000, (turns[i + 1]?.at ?? end.toMillis()) - 60_000].map((instant) => DateTime.fromMillis(instant, { zone }).toISO());
    // Nobody wrote anything down on the first two days.
    if (i > 4) diary.push(`A,${home ? "occupied" : "empty"},${from},${to}`, `ida,${home ? "here" : "away"},${from},${to}`);
  }
  for (let at = begin.toMillis(); at < end.toMillis(); at += 10 * MINUTE_MS) {
    const home = turns.findLast((turn) => turn.at + 110_000 <= at)?.home ?? true;
    add(at, "overhead", home ? "4.2" : "8.1");
    add(at, "wall", home ? "20" : "110");
  }
  rows.sort((a, b) => a.at - b.at);
  const files: Record<string, string> = { "diary.csv": `${diary.join("\n")}\n` };
  for (const { at, what, says } of rows) {
    const file = `log-${new Date(Math.floor(at / DAY_MS) * DAY_MS).toISOString().slice(0, 10)}.csv`;
    files[file] = `${files[file] ?? "at,what,says\n"}${DateTime.fromMillis(at, { zone }).toFormat("yyyy-MM-dd'T'HH:mm:ss")},${what},${says}\n`;
  }
  return files;
}
