import { DateTime } from "luxon";
import { gzipSync } from "node:zlib";
import { mulberry32, type Dice } from "./dice.js";
import { stateAt, ZONE, type MonthTruth, type Turn } from "./month.js";

/*
 * How the newcomer's devices wrote a month down: five files in five ways, with all that goes wrong in a home. The columns are
 * invented.
 */

const SECOND = 1000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;

/** What the devices call things; a later month may call them otherwise. */
export interface Naming {
  readonly ceilings: readonly [string, string];
  readonly wallColumns: readonly [string, string];
  readonly doorWords: readonly [string, string];
}

/** What they were called at first. */
export const firstNaming: Naming = { ceilings: ["bay1_ceiling", "bay2_ceiling"], wallColumns: ["Zeit", "Abstand cm"], doorWords: ["open", "shut"] };
/** What they are called after the board was set up anew. */
export const laterNaming: Naming = { ceilings: ["ceiling1", "ceiling2"], wallColumns: ["Zeitpunkt", "Distanz cm"], doorWords: ["offen", "zu"] };

interface Row {
  readonly at: number;
  readonly thing: string;
  readonly says: string;
}

/** A month's files by name, under `exports/`. */
export function exportsOf(truth: MonthTruth, naming = firstNaming, seed = 11): Record<string, string | Uint8Array> {
  const dice = mulberry32(seed);
  const month = DateTime.fromMillis(truth.from, { zone: ZONE }).toFormat("yyyy-MM");
  const powered = ({ at }: { readonly at: number }): boolean => at < truth.outage.from || at > truth.outage.to;
  const board = [...ceilingRows(truth, 0, naming, dice), ...ceilingRows(truth, 1, naming, dice), ...railRows(truth, naming, dice)].filter(powered);
  const house = [...leafRows(truth), ...karelRows(truth, dice), ...houseRows(truth, dice)].filter(powered);
  return {
    [`exports/board ${month}.csv`]: text(["logged,point,says", ...inTime(board).map(({ at, thing, says }) => `${withOffset(at)},${thing},${says}`)]),
    [`exports/wall bay 1 ${month}.csv`]: text([naming.wallColumns.join(";"), ...[...wallRows(truth, dice)].filter(powered).map(({ at, says }) => `${local(at)};${says}`)]),
    [`exports/phones/ines ${month}.csv.gz`]: gzipSync(text(["when,state", ...inesRows(truth, dice).map(({ at, says }) => `${utc(at)},${says}`)])),
    [`exports/house ${month}.jsonl`]: text(inTime(house).map(({ at, thing, says }) => JSON.stringify({ at: utc(at), thing, state: says }))),
  };
}

/** A distance from above every minute: an own vehicle, a visitor's, or the floor. */
function* ceilingRows(truth: MonthTruth, bay: 0 | 1, { ceilings }: Naming, dice: Dice): Generator<Row> {
  const [own, floor] = bay === 0 ? [104, 241] : [96, 238];
  for (let at = truth.from + (7 + bay * 13) * SECOND; at < truth.to; at += MINUTE) {
    const there = stateAt(truth.bays[bay], at, true);
    const visitor = bay === 1 && truth.visits.some(({ from, to }) => at >= from && at < to);
    const distance = (there ? (visitor ? 71 : own) : floor) + Math.round(4 * dice.share() - 2);
    // Now and then an echo is lost.
    yield { at, thing: ceilings[bay], says: dice.below(900) === 0 ? "400" : String(distance) };
  }
}

/** The slow meter on the wall of bay 1: every three minutes, with a decimal comma. */
function* wallRows(truth: MonthTruth, dice: Dice): Generator<Row> {
  for (let at = truth.from + 41 * SECOND; at < truth.to; at += 3 * MINUTE) {
    const distance = (stateAt(truth.bays[0], at, true) ? 64 : 212) + 3 * dice.share();
    yield { at, thing: "", says: distance.toFixed(1).replace(".", ",") };
  }
}

/** The contact on the rail: at every turn, and every ten minutes. */
function railRows(truth: MonthTruth, { doorWords: [open, shut] }: Naming, dice: Dice): Row[] {
  const rows: Row[] = truth.door.map(({ at, on }) => ({ at: at + dice.below(900), thing: "door_rail", says: on ? open : shut }));
  for (let at = truth.from; at < truth.to; at += 10 * MINUTE) rows.push({ at, thing: "door_rail", says: stateAt(truth.door, at, false) ? open : shut });
  return rows;
}

/** The contact on the door's leaf and that of the hatch say ON and OFF, at their turns only; after an outage they are lost for a while. */
function leafRows(truth: MonthTruth): Row[] {
  const contact = (turns: readonly Turn[], thing: string, lag: number): Row[] => [
    { at: truth.from + 3 * SECOND, thing, says: "OFF" },
    ...turns.map(({ at, on }, i) => ({ at: at + lag + ((i * 379) % 1_300), thing, says: on ? "ON" : "OFF" })),
    { at: truth.outage.to + 20 * SECOND, thing, says: "unavailable" },
    { at: truth.outage.to + 4 * MINUTE, thing, says: "OFF" },
  ];
  return [...contact(truth.door, "garage_door_leaf", 400), ...contact(truth.hatch, "loft_hatch", 300)];
}

/** Ines's phone writes on its own: home and not_home, and it sleeps through a good part of the night on many nights. */
function inesRows(truth: MonthTruth, dice: Dice): Row[] {
  const rows = truth.people.ines.map(({ at, on }) => ({ at: at + (on ? -1 : 1) * (20 + dice.below(100)) * SECOND, thing: "", says: on ? "home" : "not_home" }));
  for (let night = truth.from; night < truth.to - 8 * HOUR; night += 24 * HOUR) {
    if (dice.below(10) >= 4) continue;
    const from = night + 90 * MINUTE + dice.below(40) * MINUTE;
    rows.push({ at: from, thing: "", says: "not_home" }, { at: from + (120 + dice.below(60)) * MINUTE, thing: "", says: "home" });
  }
  return inTime([{ at: truth.from + 5 * SECOND, thing: "", says: "home" }, ...rows]);
}

function karelRows(truth: MonthTruth, dice: Dice): Row[] {
  const rows = truth.people.karel.map(({ at, on }) => ({ at: at + (on ? -1 : 1) * (20 + dice.below(80)) * SECOND, thing: "karel_phone", says: on ? "home" : "not_home" }));
  const back = truth.outage.to + 30 * SECOND;
  const again = { at: back + MINUTE, thing: "karel_phone", says: stateAt(truth.people.karel, back, true) ? "home" : "not_home" };
  return [{ at: truth.from + 9 * SECOND, thing: "karel_phone", says: "home" }, ...rows, { at: back, thing: "karel_phone", says: "unavailable" }, again];
}

/** Everything else that a house talks of: none of it is about a bay, a door or a person. */
function* houseRows(truth: MonthTruth, dice: Dice): Generator<Row> {
  const every = function* (minutes: number, thing: string, says: (hour: number) => string): Generator<Row> {
    for (let at = truth.from + dice.below(minutes) * MINUTE; at < truth.to; at += minutes * MINUTE + dice.below(20) * SECOND) {
      yield { at, thing, says: says(DateTime.fromMillis(at, { zone: ZONE }).hour) };
    }
  };
  yield* every(15, "bath_humidity", (hour) => (52 + 10 * Math.sin(hour / 4) + 3 * dice.share()).toFixed(1));
  yield* every(10, "kettle_power", () => (dice.below(25) === 0 ? String(2040 + dice.below(30)) : "0"));
  yield* every(20, "hall_light", (hour) => (hour >= 17 && hour < 23 && dice.below(3) > 0 ? "ON" : "OFF"));
  yield* every(30, "washer", () => ["idle", "idle", "wash", "rinse", "spin"][dice.below(5)] ?? "idle");
  for (let at = truth.from + HOUR; at < truth.to; at += (8 + dice.below(50)) * MINUTE) {
    const home = stateAt(truth.people.ines, at, true) || stateAt(truth.people.karel, at, true);
    const hour = DateTime.fromMillis(at, { zone: ZONE }).hour;
    if (!home || hour < 6) continue;
    yield { at, thing: "hall_motion", says: "ON" };
    yield { at: at + 45 * SECOND, thing: "hall_motion", says: "OFF" };
    if (dice.below(4) > 0) continue;
    yield { at: at + 2 * MINUTE, thing: "toilet_flush", says: "ON" };
    yield { at: at + 2 * MINUTE + 20 * SECOND, thing: "toilet_flush", says: "OFF" };
  }
}

function inTime(rows: readonly Row[]): Row[] {
  return [...rows].sort((a, b) => a.at - b.at);
}

function text(lines: readonly string[]): string {
  return `${lines.join("\n")}\n`;
}

function utc(at: number): string {
  return new Date(at).toISOString();
}

function withOffset(at: number): string {
  return DateTime.fromMillis(at, { zone: ZONE }).toFormat("yyyy-MM-dd'T'HH:mm:ssZZ");
}

/** What the wall clock showed: in the night of the clock change an hour comes twice. */
function local(at: number): string {
  return DateTime.fromMillis(at, { zone: ZONE }).toFormat("dd.MM.yyyy HH:mm:ss");
}
