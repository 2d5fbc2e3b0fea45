import { Document, visit } from "yaml";
import type { Scenario, Sensor } from "./scenario.js";

/** Where {@link siteText} says the kept diary is. */
export const KEPT_DIARY = "diary-kept.csv";
/** The whole truth, to check an audit by; the site file does not mention it. */
export const TRUE_DIARY = "diary-true.csv";

/**
 * The site file that goes with the exports: sources, subjects and signals from the scenario's own words, then the
 * scenario's `site` part (rules, limits, settings) with its comments. Readable: one line a signal.
 */
export function siteText(scenario: Scenario): string {
  const home = Object.values(scenario.sensors).find((sensor) => sensor.kind === "position")?.reads;
  const sections = [
    `# ${scenario.scenario}: an invented site. Written by keyworthy simulate (seed ${scenario.seed}); change the scenario, not this file.\n${pair("site", scenario.scenario)}${pair("timezone", scenario.timezone)}`,
    home === undefined ? "" : pair("home", { latitude: home.latitude, longitude: home.longitude }),
    `# Where the exports are and how they are written.\nsources:\n${Object.entries(scenario.sources).map(([name, source]) => block(name, sourceParts(scenario, name, source))).join("")}`,
    `# What has a true state.\n${pair("bays", scenarioBays(scenario), true)}${pair("doors", emptied(scenario.doors))}${pair("people", emptied(scenario.people))}`,
    `# One sensor's account of one subject each. What shares a board, hub or network can fail together.\nsignals:\n${Object.entries(scenario.sensors).map(([name, sensor]) => `  ${name}: ${flow(signalParts(scenario, sensor))}\n`).join("")}`,
    `# What somebody wrote down: bays, doors and people, known for certain.\n${pair("diary", { files: KEPT_DIARY })}`,
    scenario.siteText,
  ];
  return sections.filter((section) => section !== "").join("\n");
}

function scenarioBays(scenario: Scenario): Record<string, object> {
  return Object.fromEntries(Object.entries(scenario.bays).map(([bay, { vehicle }]) => [bay, vehicle === undefined ? {} : { vehicle }]));
}

function emptied(names: Readonly<Record<string, unknown>>): Record<string, object> {
  return Object.fromEntries(Object.keys(names).map((name) => [name, {}]));
}

function sourceParts(scenario: Scenario, name: string, source: Scenario["sources"][string]): Record<string, unknown> {
  const columns = Object.entries(scenario.sensors).filter(([, sensor]) => sensor.source === name);
  const wide = source.signal === undefined;
  return {
    files: source.files,
    time: source.time,
    ...(source.delimiter === "," ? {} : { delimiter: source.delimiter }),
    ...(wide ? { each: Object.fromEntries(columns.map(([signal, sensor]) => [signal, sensor.columns ?? sensor.column])), missing: source.missing } : { signal: source.signal }),
    ...(source.value === undefined ? {} : { value: source.value }),
    ...(source.latitude === undefined ? {} : { latitude: source.latitude, longitude: source.longitude }),
    ...(source.lost.length === 0 ? {} : { lost: source.lost }),
    ...source.site,
  };
}

function signalParts(scenario: Scenario, sensor: Sensor): Record<string, unknown> {
  const [on, off] = sensor.on in scenario.bays ? ["occupied", "empty"] : sensor.on in scenario.doors ? ["open", "closed"] : ["here", "away"];
  return {
    on: sensor.on,
    source: sensor.source,
    ...(scenario.sources[sensor.source]?.signal === undefined ? {} : { channel: sensor.channel }),
    kind: sensor.kind,
    ...(sensor.kind === "distance" ? { unit: sensor.unit } : {}),
    ...("off" in sensor.reads ? { [on]: [sensor.reads.on], [off]: [sensor.reads.off] } : {}),
    ...sensor.site,
    ...(sensor.shares.length === 0 ? {} : { shares: sensor.shares }),
  };
}

/** A key with its value on one line, or (`open`) with one line for each of the value's keys; nothing for an empty map. */
function pair(key: string, value: unknown, open = false): string {
  if (typeof value === "object" && value !== null && Object.keys(value).length === 0) return "";
  if (!open) return `${key}: ${flow(value)}\n`;
  return `${key}:\n${Object.entries(value as object).map(([name, part]) => `  ${name}: ${flow(part)}\n`).join("")}`;
}

/** A named map with one line for each of its keys. */
function block(name: string, value: Readonly<Record<string, unknown>>): string {
  return `  ${name}:\n${Object.entries(value).map(([key, part]) => `    ${key}: ${flow(part)}\n`).join("")}`;
}

/** YAML on one line. Words that YAML would take for numbers, or for nothing, get quotes. */
function flow(value: unknown): string {
  const document = new Document(value);
  visit(document, {
    Collection: (_key, node) => {
      node.flow = true;
    },
  });
  return document.toString({ lineWidth: 0 }).trimEnd();
}
