import { gzipSync } from "node:zlib";
import { happens, pick, randomStream, type Random } from "../../../src/simulate/random.js";

/** Where a site's files are (relative to the folder of all sites), and what they hold. */
export interface VariedSite {
  readonly file: string;
  readonly name: string;
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  /** What is unlike the plain ones about it, in words. */
  readonly traits: readonly string[];
}

/** Days of each site's export. Short: what is tested is how sites are put together. */
const DAYS = 6;
const names = ["Otter", "Ærø", "Fox & Hare", "7 Mill", "Zoë’s", "Long \"Barn\"", "Heron,Lane", "Ash"];
const models = ["side-1", "side-2", "roof-9"];

/**
 * Small invented sites, each of another kind: one bay or three, with rules or none, in several months and time zones, with dirt
 * in the exports (broken stamps, unknown words, repeated rows, a row cut off), a diary, a packed export, a second source with a clock of its
 * own, models and firmware. Site `i` is the same every time.
 */
export function variedSite(i: number): VariedSite {
  const random = randomStream(i, "varied sites");
  const has = (trait: string, every: number, at: number): string[] => (i % every === at ? [trait] : []);
  const traits = [
    ...has("three bays", 3, 0), ...has("no rule", 4, 1), ...has("dirt", 3, 1), ...has("diary", 5, 2), ...has("packed", 6, 4), ...has("second source", 2, 1), ...has("firmware", 4, 2), ...has("two rules", 5, 0), ...has("silent meter", 7, 3),
  ];
  const is = (trait: string): boolean => traits.includes(trait);
  const bays = is("three bays") ? ["a", "b", "c"] : ["a"];
  const name = `${names[i % names.length]!} ${i}`;
  const month = 1 + (i % 4);
  const mats = is("second source") ? "hub" : "log";
  const log = is("packed") ? "log.csv.gz" : "log.csv";
  const model = `model: ${models[i % models.length]!}${is("firmware") ? `, firmware: "${1 + (i % 3)}.0"` : ""}`;
  const site = `site: ${JSON.stringify(name)}
timezone: ${pick(random, ["Europe/London", "UTC", "America/St_Johns"])}
sources:
  log: { files: ${log}, time: { column: at, written: iso }, signal: what, value: says }
${mats === "hub" ? "  hub: { files: hub.csv, time: { column: when, written: epoch-s }, signal: id, value: v, clock_correction: 3s }\n" : ""}bays: { ${bays.map((bay) => `${bay}: {}`).join(", ")} }
doors: { door: {} }
people: { ida: {} }
signals:
${bays.map((bay) => `  roof-${bay}: { on: ${bay}, source: log, channel: roof-${bay}, kind: distance, unit: cm, present: [100, 150], ${model} }\n  mat-${bay}: { on: ${bay}, source: ${mats}, channel: mat-${bay}, kind: flag, occupied: "1", empty: "0", settle: 5s }`).join("\n")}
  rail: { on: door, source: log, channel: rail, kind: contact, open: [open], closed: [closed] }
  phone: { on: ida, source: log, channel: phone, kind: phone, here: [in], away: [out] }
${is("diary") ? "diary: { files: diary.csv }\n" : ""}${is("no rule") ? "" : rules(is("two rules"))}`;
  const rows = readings(random, bays, month, is("silent meter"));
  const ofHub = (what: string): boolean => mats === "hub" && what.startsWith("mat");
  const logText = `at,what,says\n${dirtied(rows.filter(({ what }) => !ofHub(what)).map(({ at, what, says }) => `${new Date(at).toISOString()},${what},${says}`), is("dirt"), random).join("\n")}\n`;
  const folder = `s${String(i).padStart(2, "0")}`;
  return {
    name,
    file: `${folder}/site.yaml`,
    traits,
    files: {
      [`${folder}/site.yaml`]: site,
      [`${folder}/${log}`]: is("packed") ? gzipSync(logText) : logText,
      ...(mats === "hub" ? { [`${folder}/hub.csv`]: `when,id,v\n${rows.filter(({ what }) => ofHub(what)).map(({ at, what, says }) => `${Math.round(at / 1000) + 2},${what},${says}`).join("\n")}\n` } : {}),
      ...(is("diary") ? { [`${folder}/diary.csv`]: `subject,state,from,to\na,occupied,${day(month, 2, "18:30")},${day(month, 3, "06:00")}\na,empty,${day(month, 3, "10:00")},${day(month, 3, "15:00")}\n` } : {}),
    },
  };
}

function rules(two: boolean): string {
  const lock = "  - { name: lock when away, act: lock, when: { all: [ { every: people, is: away, held: 5min }, { every: doors, is: closed } ] } }\n";
  return `rules:
  - { name: unlock on arrival, act: unlock, when: { all: [ { signal: roof-a, turned: occupied, within: 2min }, { signal: mat-a, is: occupied }, { signal: phone, turned: here, within: 10min } ] } }
${two ? lock : ""}limits: { confidence: 0.9, unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min }${two ? ", lock: { wrong_per_year: 2, missed_share: 0.1, within: 15min }" : ""} }
`;
}

interface Row {
  readonly at: number;
  readonly what: string;
  readonly says: string;
}

function day(month: number, date: number, time: string): string {
  return `2026-0${month}-0${date}T${time}:00Z`;
}

/** Away in the morning, home in the evening, a reading every hour; a mat overlooks one visit in five, a roof meter sees a phantom now and then. */
function readings(random: Random, bays: readonly string[], month: number, silent: boolean): Row[] {
  const rows: Row[] = [];
  const add = (at: number, what: string, says: string): void => void rows.push({ at, what, says });
  for (let date = 1; date <= DAYS; date += 1) {
    const at = (time: string, seconds = 0): number => Date.parse(day(month, date, time)) + Math.round(seconds) * 1000;
    if (date === 1) for (const [what, says] of [["rail", "closed"], ["phone", "in"]] as const) add(at("00:00"), what, says);
    const goes = 600 * random();
    const comes = 600 * random();
    for (const bay of bays) {
      const overlooked = happens(random, 0.2);
      const [left, back] = [at("08:00", goes + 60 * random()), at("17:00", comes + 60 * random())];
      const present = (instant: number): boolean => instant < left || instant >= back;
      const metre = (instant: number): string => ((present(instant) ? 120 : 240) + random() * 3).toFixed(1);
      for (let hour = 0; hour < 24; hour += 1) if (!silent || hour < 20 || date % 3 !== 0) add(at("00:00", hour * 3600), `roof-${bay}`, metre(at("00:00", hour * 3600)));
      add(left, `roof-${bay}`, metre(left));
      add(back, `roof-${bay}`, metre(back));
      if (date === 1) add(at("00:00"), `mat-${bay}`, "1");
      add(left + 4000, `mat-${bay}`, "0");
      if (!overlooked) add(back + 7000, `mat-${bay}`, "1");
      if (happens(random, 0.15)) for (const [time, cm] of [["12:10", "121.0"], ["12:14", "240.0"]] as const) add(at(time), `roof-${bay}`, cm);
    }
    for (const [hour, seconds, phone] of [["08:00", goes, "out"], ["17:00", comes, "in"]] as const) {
      add(at(hour, seconds - 30), "rail", "open");
      add(at(hour, seconds + 90), "rail", "closed");
      add(at(hour, seconds + 100), "phone", phone);
    }
  }
  return rows.sort((a, b) => a.at - b.at || (a.what < b.what ? -1 : 1));
}

/** Broken stamps, unknown words, empty cells, repeated rows, rows out of order, and a last row cut in the middle. */
function dirtied(lines: readonly string[], dirty: boolean, random: Random): string[] {
  if (!dirty) return [...lines];
  const made = lines.flatMap((line) => {
    const [at = "", what = "", says = ""] = line.split(",");
    const roll = random();
    if (roll < 0.02) return [line, line];
    if (roll < 0.04) return [line, `${at.slice(0, 7)},${what},${says}`];
    if (roll < 0.06) return [line, `${at},${what},broken`];
    if (roll < 0.08) return [line, `${at},stranger,${says}`];
    if (roll < 0.1) return [line, `${at},${what},`];
    return [line];
  });
  for (let i = 10; i + 1 < made.length; i += 97) [made[i], made[i + 1]] = [made[i + 1]!, made[i]!];
  return [...made, "2026-0"];
}
