/** What the sensors of a home report of a life: an export, its site file and a diary, as text. */
import { between, instantsEvenly, type Chance } from "../verdict/random.js";
import { DAY, HOUR, MINUTE, type HomeKind, type Life, type Span } from "./life.js";

const BEGIN = Date.UTC(2026, 1, 2);

/** Files by name, and the truth in epoch milliseconds. */
export interface Exported {
  readonly files: ReadonlyMap<string, string>;
  readonly empty: readonly Span[];
  readonly period: Span;
}

interface Row {
  readonly at: number;
  readonly channel: string;
  readonly word: string;
}

/** `diaryDays`: somebody wrote down when nobody was in, and when somebody was, on these days from the start. */
export function exportHome(kind: HomeKind, life: Life, diaryDays: number, chance: Chance): Exported {
  const outages = instantsEvenly(chance, DAY, (life.days - 2) * DAY, kind.outages).map((from) => ({ from, to: from + between(chance, 3, 30) * HOUR }));
  const heard = (at: number): boolean => !outages.some((one) => one.from <= at && at < one.to);
  const moves = [...life.moves, ...others(kind, life, chance)].sort((a, b) => a.at - b.at);
  const rows = [
    ...["hall", "kitchen", "living", "bath"].flatMap((room) => motionRows(room, moves.filter((one) => one.room === room).map(({ at }) => at), kind.taps, chance)),
    ...life.uses.flatMap(({ opened, shut }) => [
      { at: opened, channel: "front", word: "open" },
      { at: shut, channel: "front", word: "shut" },
    ]),
    ...(kind.phone ? phoneRows(life.out[0]!, life.days, chance) : []),
    { at: 0, channel: "front", word: "shut" },
  ]
    .filter(({ at }) => at >= 0 && at < life.days * DAY && heard(at))
    .concat(outages.flatMap((one) => channelsOf(kind).map((channel) => ({ at: one.from, channel, word: "gone" }))))
    .sort((a, b) => a.at - b.at);
  const log = ["time,what,says", ...rows.map(({ at, channel, word }) => `${stamp(at)},${channel},${word}`)].join("\n");
  return {
    files: new Map([
      ["log.csv", `${log}\n`],
      ["site.yaml", siteText(kind, diaryDays > 0)],
      ["diary.csv", diaryText(life, diaryDays)],
    ]),
    empty: life.empty.map(({ from, to }) => ({ from: BEGIN + from, to: BEGIN + to })),
    period: { from: BEGIN, to: BEGIN + life.days * DAY },
  };
}

function channelsOf(kind: HomeKind): string[] {
  return ["hall", "kitchen", "living", "bath", "front", ...(kind.phone ? ["phone"] : [])];
}

function stamp(at: number): string {
  return new Date(BEGIN + Math.round(at)).toISOString().replace(/\.\d+Z$/, "Z");
}

/** A robot's round, a cat's ways. The robot runs whether or not somebody is in. */
function others(kind: HomeKind, life: Life, chance: Chance): { at: number; room: string }[] {
  if (kind.stirs === "nobody else") return [];
  const rooms = ["kitchen", "living", "hall"];
  if (kind.stirs === "cat") return instantsEvenly(chance, 0, life.days * DAY, life.days * 9).map((at) => ({ at, room: rooms[Math.floor(chance() * 3)]! }));
  return Array.from({ length: life.days }, (_, day) => day * DAY + 10.5 * HOUR + between(chance, 0, 10 * MINUTE)).flatMap((from) =>
    instantsEvenly(chance, from, from + 50 * MINUTE, 30).map((at) => ({ at, room: rooms[Math.floor(((at - from) / (50 * MINUTE)) * 2.99)]! })),
  );
}

/** On with the first movement, off a minute after the last; one in thirty is not noticed. A tap tells of the first only. */
function motionRows(channel: string, moves: readonly number[], taps: boolean, chance: Chance): Row[] {
  const hold = channel === "living" ? 2 * MINUTE : MINUTE;
  const rows: Row[] = [];
  let offAt = -Infinity;
  for (const at of moves) {
    if (chance() < 1 / 30) continue;
    if (taps && chance() < 0.35) continue;
    if (at > offAt) {
      if (offAt > -Infinity && !taps) rows.push({ at: offAt, channel, word: "quiet" });
      rows.push({ at: at + between(chance, 200, 1_500), channel, word: "moved" });
    }
    offAt = at + hold;
  }
  if (!taps && offAt > -Infinity) rows.push({ at: offAt, channel, word: "quiet" });
  return rows;
}

/** The phone tells of coming and going one to nine minutes late, and now and then loses the network for a while. */
function phoneRows(out: readonly Span[], days: number, chance: Chance): Row[] {
  const channel = "phone";
  const turns = out.filter(({ from, to }) => to - from > 20 * MINUTE).flatMap(({ from, to }) => [{ at: from + between(chance, 1, 9) * MINUTE, channel, word: "far" }, { at: to + between(chance, 0.5, 6) * MINUTE, channel, word: "near" }]);
  const lapses = instantsEvenly(chance, 0, days * DAY, days * 0.3)
    .filter((at) => !out.some((one) => one.from - HOUR < at && at < one.to + 2 * HOUR))
    .flatMap((at) => [{ at, channel, word: "far" }, { at: at + between(chance, 10, 40) * MINUTE, channel, word: "near" }]);
  return [{ at: 1, channel, word: "near" }, ...turns, ...lapses];
}

function siteText(kind: HomeKind, diary: boolean): string {
  const motion = ["hall", "kitchen", "living", "bath"]
    .map((room) => `  ${room}-stir: { on: household, source: log, channel: ${room}, kind: stir, stirs: moved${kind.taps ? "" : ", still: quiet"} }`)
    .join("\n");
  return `site: A home
timezone: UTC
sources:
  log: { files: log.csv, time: { column: time, written: iso }, signal: what, value: says, lost: gone }
doors: { front-door: {} }
people: { household: {} }
signals:
${motion}
  front: { on: front-door, source: log, channel: front, kind: contact, open: open, closed: shut }
${kind.phone ? "  phone: { on: household, source: log, channel: phone, kind: phone, here: near, away: far }\n" : ""}rules:
  - name: lock when nothing stirs
    act: lock
    when: { all: [ { every: stirs, is: still, held: 10min }, { signal: front, is: closed } ] }
  - name: lock when nothing stirs since the door
    act: lock
    when: { all: [ { every: stirs, is: still, since: { signal: front, turned: closed, grace: 2min } }, { every: stirs, is: still, held: 10min }, { signal: front, is: closed } ] }
limits:
  lock: { wrong_per_year: 2, missed_share: 0.2, within: 20min }
${diary ? "diary: { files: diary.csv }\n" : ""}`;
}

/** Whoever writes down only what is certain stays a quarter of an hour inside of it. */
function diaryText(life: Life, days: number): string {
  const quarter = 15 * MINUTE;
  const entry = (state: string, from: number, to: number): string[] => {
    const [a, b] = [Math.ceil(from / quarter) * quarter, Math.floor(Math.min(to, days * DAY) / quarter) * quarter];
    return a < b ? [`household,${state},${stamp(a)},${stamp(b)}`] : [];
  };
  const ends = [0, ...life.empty.flatMap(({ from, to }) => [from, to]), life.days * DAY];
  const rows = ends.slice(0, -1).flatMap((from, i) => (from >= days * DAY ? [] : entry(i % 2 === 0 ? "here" : "away", from, ends[i + 1]!)));
  return ["subject,state,from,to", ...rows, ""].join("\n");
}
