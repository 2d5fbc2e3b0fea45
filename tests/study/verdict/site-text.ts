import { DAY, HOUR, MINUTE, SECOND, type Limits, type Part, type Rule, type World } from "./world.js";

const stateWords = { bay: { on: "occupied", off: "empty" }, door: { on: "open", off: "closed" }, person: { on: "here", off: "away" } } as const;

/** The files of a world as a household would have them: name → text. */
export function filesOf(world: World, limits: Limits): Map<string, string> {
  const files = new Map([["site.yaml", siteText(world, limits)]]);
  for (const source of sourcesOf(world)) for (const [name, text] of exportFiles(world, source)) files.set(name, text);
  if (world.diary.length > 0) files.set("diary.csv", diaryText(world));
  return files;
}

/** Rules tried beside the site's own, as a file for `--try`; empty without any. */
export function triedText(world: World): string {
  return world.tried.length === 0 ? "" : `rules:\n${world.tried.map((rule) => ruleText(world, rule)).join("")}`;
}

function sourcesOf(world: World): string[] {
  return [...new Set(world.sensors.map((sensor) => sensor.source))];
}

function wordsOf(world: World, subject: string): { readonly on: string; readonly off: string } {
  return stateWords[world.subjects.find(({ id }) => id === subject)!.class];
}

function siteText(world: World, limits: Limits): string {
  const sources = sourcesOf(world).map((source) => `  ${source}:\n    files: ${source}-*.csv\n    time: { column: stamp, written: iso, zone: UTC }\n    signal: device\n    value: says\n`);
  const classes = (["bay", "door", "person"] as const).flatMap((name) => {
    const own = world.subjects.filter((subject) => subject.class === name);
    return own.length === 0 ? [] : [`${{ bay: "bays", door: "doors", person: "people" }[name]}:\n${own.map(({ id }) => `  ${id}: {}\n`).join("")}`];
  });
  const signals = world.sensors.map(({ id, on, source, kind, shares, everyMs }) => {
    const { on: yes, off: no } = wordsOf(world, on);
    const reading = kind === "distance" ? "unit: m, present: [0.9, 1.5]" : `${yes}: "${yes}", ${no}: "${no}"`;
    const expect = everyMs === null ? "" : `, expect: ${everyMs / MINUTE}min`;
    return `  ${id}: { on: ${on}, source: ${source}, channel: ${id}, kind: ${kind}, ${reading}${expect}${shares.length === 0 ? "" : `, shares: [${shares.join(", ")}]`} }\n`;
  });
  const { wrongPerYear, missedShare, withinMs } = limits;
  return [
    `site: study ${world.place}\ntimezone: UTC\nsources:\n${sources.join("")}`,
    ...classes,
    `signals:\n${signals.join("")}`,
    `rules:\n${ruleText(world, world.rule)}`,
    `limits:\n  confidence: 0.95\n  ${world.rule.act}: { wrong_per_year: ${wrongPerYear.toFixed(2)}, missed_share: ${missedShare.toFixed(4)}, within: ${withinMs / MINUTE}min }\n`,
    world.diary.length > 0 ? "diary: { files: diary.csv }\n" : "",
  ].join("");
}

function ruleText(world: World, rule: Rule): string {
  const { right } = rule;
  const state = (subject: string, which: "on" | "off"): string => wordsOf(world, subject)[which];
  const came = (subjects: readonly string[], withinMs: number): string => `{ any: [ ${subjects.map((id) => `{ subject: ${id}, turned: ${state(id, "on")}, within: ${withinMs / MINUTE}min }`).join(", ")} ] }`;
  const facts =
    right.form === "came"
      ? came(right.subjects, right.withinMs)
      : `{ all: [ ${(right.form === "each came" ? right.groups.map((group) => came(group, right.withinMs)) : right.subjects.map((id) => `{ subject: ${id}, is: ${state(id, "off")} }`)).join(", ")} ] }`;
  const when = rule.parts.map((part) => partText(world, part));
  return `  - name: ${rule.name}\n    act: ${rule.act}\n    rest: ${rule.restMs / MINUTE}min\n    when: { all: [ ${when.join(", ")} ] }\n    right_when: ${facts}\n`;
}

function partText(world: World, part: Part): string {
  const wordOf = (sensor: string, says: 0 | 1): string => wordsOf(world, world.sensors.find(({ id }) => id === sensor)!.on)[says === 1 ? "on" : "off"];
  if (part.form === "is") return `{ signal: ${part.sensor}, is: ${wordOf(part.sensor, part.says)}${part.heldMs === 0 ? "" : `, held: ${part.heldMs / SECOND}s`} }`;
  const turns = part.anyOf.map((sensor) => `{ signal: ${sensor}, turned: ${wordOf(sensor, 1)}, within: ${part.withinMs / SECOND}s }`);
  return turns.length === 1 ? turns[0]! : `{ any: [ ${turns.join(", ")} ] }`;
}

interface Row {
  readonly at: number;
  readonly device: string;
  readonly says: string;
}

/** One file a source, or overlapping weekly ones of which the first is there twice. */
function exportFiles(world: World, source: string): [string, string][] {
  const rows = world.sensors.filter((sensor) => sensor.source === source).flatMap((sensor) => rowsOf(world, sensor)).sort((a, b) => a.at - b.at);
  const shift = (world.exporting.hoursOff[source] ?? 0) * HOUR;
  const text = (some: readonly Row[]): string => `stamp,device,says\n${some.map(({ at, device, says }) => `${new Date(at + shift).toISOString().slice(0, 19)}Z,${device},${says}\n`).join("")}`;
  if (!world.exporting.overlapping) return [[`${source}-all.csv`, text(rows)]];
  const files: [string, string][] = [];
  for (let week = 0; world.from + 7 * week * DAY < world.to; week += 1) {
    const from = world.from + 7 * week * DAY;
    files.push([`${source}-week-${week}.csv`, text(rows.filter(({ at }) => at >= from - 2 * DAY && at < from + 7 * DAY))]);
  }
  return [...files, [`${source}-week-0-again.csv`, files[0]![1]]];
}

/** A row for each step and each repetition in between; none while it says nothing. */
function rowsOf(world: World, { id, on, kind, everyMs, steps }: World["sensors"][number]): Row[] {
  const words = wordsOf(world, on);
  const rows: Row[] = [];
  // So that the sensors' repetitions do not fall into the same second.
  const phase = Array.from(id).reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 1741, 7) * SECOND;
  steps.forEach(({ at, says }, i) => {
    if (says === 2) return;
    const to = steps[i + 1]?.at ?? world.to;
    const add = (when: number): void => {
      // The last digits of a distance go round without chance, so that a world is the same however it is written.
      const metres = (says === 1 ? 1.15 : 2.85) + ((when / SECOND) % 97) / 970;
      rows.push({ at: when, device: id, says: kind === "distance" ? metres.toFixed(2) : says === 1 ? words.on : words.off });
    };
    add(at);
    if (everyMs === null) return;
    const begin = world.from + (phase % everyMs);
    for (let when = begin + Math.ceil((at + SECOND - begin) / everyMs) * everyMs; when < to; when += everyMs) add(when);
  });
  return rows;
}

function diaryText(world: World): string {
  const stamp = (at: number): string => `${new Date(at).toISOString().slice(0, 19)}Z`;
  return `subject,state,from,to\n${world.diary.map(({ subject, on, from, to }) => `${subject},${wordsOf(world, subject)[on ? "on" : "off"]},${stamp(from)},${stamp(to)}\n`).join("")}`;
}
