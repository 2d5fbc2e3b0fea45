import { readdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** What an attacker has: the files of a folder, and when they were changed. */
export interface Loot {
  readonly texts: ReadonlyMap<string, string>;
  readonly changedAt: readonly number[];
  readonly findings: unknown;
}

/** Reads a result as somebody would to whom it was given. */
export async function lootOf(folder: string): Promise<Loot> {
  const names = await readdir(folder);
  const texts = new Map<string, string>();
  const changedAt = [(await stat(folder)).mtimeMs];
  for (const name of names) {
    changedAt.push((await stat(join(folder, name))).mtimeMs);
    const text = await readFile(join(folder, name), "utf8");
    texts.set(name, text.replace(/<style>[\s\S]*?<\/style>|<script>[\s\S]*?<\/script>/g, ""));
  }
  return { texts, changedAt, findings: JSON.parse(texts.get("findings.json") ?? "null") };
}

type Visit = (value: unknown, path: string, holder: Readonly<Record<string, unknown>>) => void;

function visited(value: unknown, visit: Visit, path = "", holder: Readonly<Record<string, unknown>> = {}): void {
  visit(value, path, holder);
  if (Array.isArray(value)) for (const one of value) visited(one, visit, `${path}[]`, holder);
  else if (typeof value === "object" && value !== null) for (const [key, one] of Object.entries(value)) visited(one, visit, `${path}.${key}`, value as Readonly<Record<string, unknown>>);
}

const isInstant = (value: unknown): value is string => typeof value === "string" && /^\d{4}-\d\d-\d\dT[\d:.]+Z$/.test(value);

/** Ways of learning the day, each with what it learnt: nothing where it fails. */
export function datesFound({ texts, changedAt, findings }: Loot): string[] {
  const found: string[] = [];
  for (const [name, text] of texts) {
    found.push(...[...text.matchAll(/\b(?!2001-0[12]-|2000-01-01)\d{4}-\d\d-\d\d/g)].map(([date]) => `${name} names ${date}`));
    found.push(...[...text.matchAll(/\b\d{1,2} (?:January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b|\b(?:January|February|March|April|June|July|August|September|October|November|December)\b/g)].map(([date]) => `${name} names ${date}`));
    found.push(...[...text.matchAll(/\bday (\d+)/g)].filter(([, day]) => Number(day) > 60).map(([day]) => `${name} counts to ${day}`));
    if (/clock change|repeated hour that|summer time|clocks? (?:went|changed)/i.test(text)) found.push(`${name} speaks of a clock change`);
  }
  if (changedAt.some((at) => at > Date.UTC(2001, 0, 1))) found.push("the files say when they were made");
  const { made, period, ledger } = findings as { made: { at: string }; period: { to: string }; ledger: { first: string | null; file: string }[] };
  if (Date.parse(made.at) > Date.parse(period.to)) found.push("it says when it was made");
  if (ledger.length > 7) found.push("the rows of each day are told");
  return found;
}

/** Ways of finding a clock change, which gives away the day of the year and the zone. */
export function clockChangesFound({ texts, findings }: Loot): string[] {
  const found = new Set<string>();
  const { period, episodes, rules } = findings as {
    period: { from: string; to: string; days: number };
    episodes: { kind: string; anchor: string; from: string; to: string; participants: { lagSeconds: number | null }[] }[];
    rules: { evidence: { covers: { confirmedHours: number[]; days: number } } }[];
  };
  // Somebody who knows how the tool works tries both: days of 24 hours, or an hour more or less.
  const isOfOtherLength = (hours: number): boolean => Math.abs(Math.abs(hours - days * 24) - 1) < 0.6 && Math.abs(hours - days * 24) > 0.4;
  const lengthMs = Date.parse(period.to) - Date.parse(period.from);
  const days = Math.round(lengthMs / DAY_MS);
  if (lengthMs % DAY_MS !== 0) found.add("the period is no whole number of days");
  if (!Number.isInteger(period.days)) found.add("its length is no whole number of days");
  const roundedDays = Number((days * 24).toPrecision(2));
  visited(findings, (value, path, holder) => {
    // Amounts that add up to all hours of the period, at a precision that tells 24 h a day from an hour more or less.
    if (/\.judgedAgainst\.hours$|\.known$/.test(path)) {
      const terms = Object.values(value as Record<string, unknown>).filter((one) => typeof one === "number");
      const sum = terms.reduce((total, one) => total + one, 0);
      // Terms of two figures say nothing of an hour.
      if (terms.some((one) => one >= 100 && !isRough(one)) && Math.abs(Math.abs(sum - days * 24) - 1) < 0.2 && sum !== roundedDays) found.add(`${path} adds up to ${sum} h`);
    }
    if (typeof value === "number" && value >= 0 && value < 1 && !Number.isInteger(value) && Number(value.toPrecision(5)) !== value && !/etres|histogram|mixture|looks|chart|points|movedReading/.test(path)) found.add(`${path} has so many digits (${value}) that they tell over how long it was taken`);
    if (/readings$/i.test(path) && typeof value === "number" && value >= 100 && Number(value.toPrecision(2)) !== value) found.add(`${path} counts ${value}: one every ten minutes?`);
    if (typeof value === "number" && !isRough(value) && /\.bounds\.wrong|design\.figures\.(?:bound|byChance|byCommonCause)$|expectedUnverified/.test(path)) found.add(`${path} is ${value}: so many a year tell the year's share`);
    // Where a history was cut by a share of its length, and where stretches end that last to its end.
    if (path.endsWith(".splitAt") && isInstant(value)) {
      const twentieths = (Date.parse(value) - Date.parse(period.from)) / (days * DAY_MS) * 20;
      if (Math.abs(twentieths - Math.round(twentieths)) > 0.002) found.add(`${path}: the history is cut after ${twentieths / 20} of its days`);
    }
    if (/\.stretches\.\w+$/.test(path)) for (const [, to] of value as [number, number][]) if (isOfOtherLength(to / 3600)) found.add(`${path} ends at ${to} s`);
    // Shares of the period: of whole days, and of the time that somebody was there, which the list of comings and goings tells too.
    if (path.endsWith(".unclearDaysShare") && typeof value === "number" && String(value).length > 5) {
      const [asDays, longer, shorter] = [days, days + 1 / 24, days - 1 / 24].map((length) => Math.abs(value * length - Math.round(value * length)));
      if (Math.min(longer!, shorter!) < asDays! / 3) found.add(`${path} is ${value}: no whole number of days`);
    }
    if (path.endsWith(".occupiedShare") && typeof value === "number" && String(value).length > 5) {
      const off = Math.abs(value - occupiedOnGrid(episodes, Date.parse(period.from), Date.parse(period.to)));
      if (off > 0.0002 && off < 0.003) found.add(`${path} is ${value}, which the comings and goings do not add up to`);
    }
    // A length of time told beside its two ends.
    if (typeof holder["from"] === "string" && typeof holder["to"] === "string" && isInstant(holder["from"]) && isInstant(holder["to"]) && path.endsWith(".text") && typeof value === "string") {
      const said = Number(/\b(\d+) h\b/.exec(value)?.[1]);
      if (Math.abs(Math.abs(said - (Date.parse(holder["to"]) - Date.parse(holder["from"])) / HOUR_MS) - 1) < 0.4) found.add(`${path}: ${value}`);
    }
    // A daily series by local days.
    if (path.endsWith(".points") && Array.isArray(value) && value.every((one) => Array.isArray(one) && isInstant(one[0]))) {
      const starts = (value as [string, number][]).map(([at]) => Date.parse(at));
      if (starts.some((at) => at % DAY_MS !== 0)) found.add(`${path}: a local day begins at another time of day`);
    }
    if (typeof value === "string") {
      for (const [text, from = "", to = "", length = ""] of value.matchAll(/from (\d\d:\d\d:\d\d) to (\d\d:\d\d:\d\d) \(([^)]+)\)/g)) {
        const apart = (clock(to) - clock(from) + 24 * 3600) % (24 * 3600);
        if (Math.abs(((seconds(length) - apart) % (24 * 3600)) / 3600) > 0.2) found.add(`${path}: ${text}`);
      }
    }
    if (isInstant(holder["from"]) && isInstant(holder["to"]) && path.endsWith(".from") && Date.parse(holder["to"]) < Date.parse(holder["from"])) found.add(`${path}: time went back`);
  });
  for (const { from, to, participants } of episodes) {
    const lags = participants.flatMap(({ lagSeconds }) => (lagSeconds === null ? [] : [lagSeconds]));
    const spread = lags.length < 2 ? 0 : Math.max(...lags) - Math.min(...lags);
    if (Math.abs(spread * 1000 - (Date.parse(to) - Date.parse(from))) > 2000 && spread * 1000 > Date.parse(to) - Date.parse(from)) found.add("lags are longer than their episode");
  }
  const anchors = episodes.map(({ anchor }) => Date.parse(anchor));
  if (anchors.some((at, i) => at < (anchors[i - 1] ?? -Infinity))) found.add("events are not in order");
  // The same thing every day at the same local time: does it move by about an hour for good?
  for (const kind of ["arrival", "departure"]) {
    const evening = episodes.filter((one) => one.kind === kind).map(({ anchor }) => Date.parse(anchor)).filter((at) => (kind === "arrival" ? at % DAY_MS > 15.5 * HOUR_MS && at % DAY_MS < 19 * HOUR_MS : at % DAY_MS > 7 * HOUR_MS + 1 && at % DAY_MS < 9.5 * HOUR_MS));
    const times = evening.map((at) => (at % DAY_MS) / HOUR_MS);
    for (let split = 3; split < times.length - 3; split += 1) {
      const mean = (list: readonly number[]): number => list.reduce((sum, one) => sum + one, 0) / list.length;
      if (Math.abs(mean(times.slice(split)) - mean(times.slice(0, split))) > 0.5) found.add(`the ${kind} of every day moves by an hour`);
    }
  }
  for (const { evidence } of rules) {
    const { confirmedHours } = evidence.covers;
    if (confirmedHours.some((hours) => hours > days + 0.01)) found.add("an hour of the day is there more often than there are days");
  }
  for (const [name, text] of texts) if (/repeat|skipped/.test(text) && /clock change/.test(text)) found.add(`${name} tells of it`);
  return [...found];
}

const isRough = (value: number): boolean => Number(value.toPrecision(2)) === value;

/** The share of the days in which a vehicle stood there, by the comings and goings alone. */
function occupiedOnGrid(episodes: readonly { kind: string; anchor: string }[], from: number, to: number): number {
  let [since, occupied] = [null as number | null, 0];
  const first = episodes[0];
  if (first?.kind === "departure") since = from;
  for (const { kind, anchor } of episodes) {
    if (kind === "arrival") since = Date.parse(anchor);
    else if (since !== null) [occupied, since] = [occupied + Date.parse(anchor) - since, null];
  }
  return (occupied + (since === null ? 0 : to - since)) / (to - from);
}

/** Names of weekdays, and counts by which day 1 could be told to be one of them. */
export function weekdaysFound({ texts, findings }: Loot, days: number): string[] {
  const found = [...texts].flatMap(([name, text]) => [...text.matchAll(/\b(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)days?\b|\b(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d/g)].map(([weekday]) => `${name} names ${weekday}`));
  visited(findings, (value, path) => {
    // Counted from day 1, a month of 31 days has three weekdays five times: the first three.
    if (path.endsWith(".weekdays") && Array.isArray(value) && (value as number[]).some((count, i) => count > Math.ceil((days - i) / 7))) found.push(`${path} is ${JSON.stringify(value)}`);
    // So many weekends a month has only if it begins on certain days.
    if (path.endsWith(".weekends.days") && typeof value === "number") {
      const firsts = [0, 1, 2, 3, 4, 5, 6].filter((first) => Array.from({ length: days }, (_, day) => (first + day) % 7).filter((day) => day > 4).length === value);
      if (firsts.length < 7) found.push(`${path} is ${value}: day 1 is one of ${firsts.length} weekdays`);
    }
    if (path.endsWith(".history.days") && typeof value === "string" && value.includes("e")) found.push(`${path} is ${value}`);
  });
  return found;
}

/** Names of places and zones. */
export function placesFound({ texts, findings }: Loot, cities: readonly string[]): string[] {
  const zones = [...texts].flatMap(([name, text]) => [...text.matchAll(/\b(?:Africa|America|Asia|Atlantic|Australia|Europe|Pacific)\/\w+|\bUTC ?[+−-]\d|\d[+-]\d\d:\d\d\b|\b(?:BST|CET|CEST|NZDT|NZST|EST|EDT)\b/g)].map(([zone]) => `${name} names ${zone}`));
  const named = [...texts].flatMap(([name, text]) => cities.filter((city) => new RegExp(`\\b${city}\\b`, "i").test(text)).map((city) => `${name} names ${city}`));
  const { timeZone } = (findings as { site: { timeZone: string } }).site;
  return [...zones, ...named, ...(timeZone === "UTC" ? [] : [`the zone is ${timeZone}`])];
}

const clock = (time: string): number => time.split(":").reduce((sum, part) => sum * 60 + Number(part), 0);

const unitSeconds: Readonly<Record<string, number>> = { d: 86_400, h: 3600, min: 60, s: 1 };
const seconds = (length: string): number => [...length.matchAll(/(\d+) (d|h|min|s)\b/g)].reduce((sum, [, count, unit = "s"]) => sum + Number(count) * (unitSeconds[unit] ?? 0), 0);
