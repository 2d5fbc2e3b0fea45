import { Document, LineCounter, isMap, isScalar, parseDocument, type Node } from "yaml";
import type { z } from "zod";
import { uncapitalised } from "../ground/first-letter.js";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { refuseEndless } from "../site/yaml-limits.js";
import { issueText } from "./issue-text.js";
import { instantOf } from "./local-calendar.js";
import { scenarioShape, type ScenarioParts } from "./scenario-shape.js";

/** Longest passage: it must end, with its people's last steps, before the next one four minutes later. */
const LONGEST_PASSAGE_MS = 200_000;

/** After this many mistakes the parser has usually lost its way, and the rest are echoes. */
const MOST_SYNTAX_PROBLEMS = 10;

/** More line ends, colons, commas and marks than any scenario needs: the yard has 1 500. Our own choice. */
const MOST_SIGNS = 30_000;

/** A scenario: what truly happens at an invented site, and how each sensor reports it. */
export interface Scenario extends ScenarioParts {
  readonly file: string;
  /** The `site` part as text, with the comments of the scenario file. */
  readonly siteText: string;
}

/** One repeated movement of the routine. */
export type Routine = Scenario["routine"][number];
/** One movement on one date. */
export type OneOff = Scenario["events"][number];
/** One sensor of the scenario. */
export type Sensor = Scenario["sensors"][string];
/** One set of export files of the scenario. */
export type ScenarioSource = Scenario["sources"][string];

/**
 * Reads a scenario file.
 * @throws InputError with every problem found, each with its line and column: YAML that does not parse, a shape that is
 * not a scenario's, names that do not exist, a period that is empty, instants outside it.
 */
export function parseScenario(text: string, file: string): Scenario {
  refuseEndless(text, file, MOST_SIGNS);
  const lines = new LineCounter();
  const document = asYaml(file, () => parseDocument(text, { lineCounter: lines, prettyErrors: false }));
  if (document.errors.length > 0) {
    throw new InputError(
      document.errors.slice(0, MOST_SYNTAX_PROBLEMS).map((error) => {
        const { line, col } = lines.linePos(error.pos[0]);
        return { code: "yaml-syntax", what: error.message, file, line, column: col, mend: "correct the YAML" };
      }),
    );
  }
  const placeOf = (path: readonly PropertyKey[]): { line: number | null; column: number | null } => {
    const offset = offsetOf(document.contents, path);
    if (offset === null) return { line: null, column: null };
    const { line, col } = lines.linePos(offset);
    return { line, column: col };
  };
  const written = asYaml<unknown>(file, () => document.toJS());
  const parsed = scenarioShape.safeParse(written);
  if (!parsed.success) {
    throw new InputError(
      parsed.error.issues.flatMap((issue) =>
        places(issue).map((path): ProblemParts => ({ code: "scenario-shape", what: `${path.map(String).join(".") || "the file"}: ${issueText(issue, valueAt(written, path))}`, file, ...placeOf(path) })),
      ),
    );
  }
  const problems = referenceProblems(parsed.data).map(({ path, what }): ProblemParts => ({ code: "scenario-shape", what: `${path.join(".")}: ${what}`, file, ...placeOf(path) }));
  if (problems.length > 0) throw new InputError(problems);
  return { ...parsed.data, file, siteText: asYaml(file, () => siteTextOf(document)) };
}

/** What the YAML library throws is about the text: an alias of nothing, values within values without end, an anchor that stands outside the `site` part. */
function asYaml<Value>(file: string, work: () => Value): Value {
  try {
    return work();
  } catch (error) {
    throw new InputError([{ code: "yaml-syntax", what: "The file cannot be read as YAML", file, found: error instanceof Error ? uncapitalised(error.message) : String(error), mend: "write values out where aliases stand" }]);
  }
}

/** The places of an issue; for unknown keys the keys themselves, not the map that holds them. */
function places(issue: z.core.$ZodIssue): PropertyKey[][] {
  return issue.code === "unrecognized_keys" ? issue.keys.map((key) => [...issue.path, key]) : [issue.path];
}

function valueAt(written: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>((here, key) => (typeof here === "object" && here !== null && Object.hasOwn(here, key) ? (here as Record<PropertyKey, unknown>)[key] : undefined), written);
}

function offsetOf(root: unknown, path: readonly PropertyKey[]): number | null {
  let node = root;
  let offset = isScalar(node) || isMap(node) ? (node.range?.[0] ?? null) : null;
  for (const key of path) {
    if (isMap(node)) {
      const pair = node.items.find((item) => isScalar(item.key) && String(item.key.value) === String(key));
      if (pair === undefined) break;
      offset = (pair.key as Node).range?.[0] ?? offset;
      node = pair.value;
    } else if (typeof node === "object" && node !== null && "items" in node && Array.isArray(node.items)) {
      node = (node.items as unknown[])[Number(key)];
      offset = (node as Node | undefined)?.range?.[0] ?? offset;
    } else break;
  }
  return offset;
}

function siteTextOf(document: Document.Parsed): string {
  const part: unknown = document.get("site", true);
  if (!isMap(part)) return "";
  const copy = new Document();
  copy.contents = part;
  return copy.toString({ lineWidth: 0 });
}

interface Misfit {
  readonly path: readonly (string | number)[];
  readonly what: string;
}

/** Names that point nowhere, and instants that make no sense together. */
function referenceProblems(scenario: ScenarioParts): Misfit[] {
  const problems: Misfit[] = [];
  const known = (path: Misfit["path"], name: string | undefined, among: Readonly<Record<string, unknown>>, what: string): void => {
    if (name === undefined || Object.hasOwn(among, name)) return;
    problems.push({ path, what: `Expected the name of a ${what} (${Object.keys(among).join(", ") || "there is none"}); found "${name}"` });
  };
  const subjects = { ...scenario.bays, ...scenario.doors, ...scenario.people };
  const classes = [scenario.bays, scenario.doors, scenario.people].map((names) => Object.keys(names)).flat();
  for (const name of new Set(classes.filter((each, at) => classes.indexOf(each) !== at))) {
    problems.push({ path: ["people", name], what: `Expected each subject's name once; "${name}" is the name of two subjects` });
  }
  if (!(scenario.period.from < scenario.period.to)) problems.push({ path: ["period", "to"], what: "Expected a day after period.from" });
  for (const [name, door] of Object.entries(scenario.doors)) {
    if (door.opens_before[1] + door.closes_after[1] > LONGEST_PASSAGE_MS) problems.push({ path: ["doors", name], what: "Expected opens_before and closes_after of 200s together at most: nothing passes twice within 4 minutes" });
  }
  for (const [part, list] of [["routine", scenario.routine], ["events", scenario.events]] as const) {
    list.forEach((entry, at) => {
      entry.who.forEach((person, i) => known([part, at, "who", i], person, scenario.people, "person"));
      known([part, at, "bay"], entry.bay, scenario.bays, "bay");
      known([part, at, "through"], entry.through, scenario.doors, "door");
    });
  }
  scenario.events.forEach((event, at) => {
    for (const name of Object.keys(event.reads)) known(["events", at, "reads", name], name, scenario.sensors, "sensor");
    if (event.on < scenario.period.from || event.on >= scenario.period.to) problems.push({ path: ["events", at, "on"], what: "Expected a day within the period" });
  });
  for (const [name, sensor] of Object.entries(scenario.sensors)) {
    known(["sensors", name, "on"], sensor.on, subjects, "subject");
    known(["sensors", name, "source"], sensor.source, scenario.sources, "source");
    sensor.shares.forEach((cause, i) => known(["sensors", name, "shares", i], cause, scenario.causes, "shared cause (list it under causes, with {} if nothing happens to it)"));
    const source = scenario.sources[sensor.source];
    if (source !== undefined) problems.push(...columnProblems(name, sensor, source));
    if (sensor.every === undefined && !sensor.on_change) problems.push({ path: ["sensors", name, "on_change"], what: "Expected every, or on_change: true; this sensor would never report" });
    if (sensor.kind === "distance" && !Object.hasOwn(scenario.bays, sensor.on)) problems.push({ path: ["sensors", name, "on"], what: `Expected a bay: only bays have distance meters; found "${sensor.on}"` });
  }
  (scenario.diary.kept?.subjects ?? []).forEach((subject, i) => known(["diary", "kept", "subjects", i], subject, subjects, "subject"));
  for (const { path, instant } of instantsOf(scenario)) {
    try {
      const [date = "", time] = instant.split(" ");
      instantOf(scenario.timezone, date, time);
    } catch {
      problems.push({ path, what: `Expected a day that exists; found "${instant}"` });
    }
  }
  return problems;
}

function columnProblems(name: string, sensor: Sensor, source: ScenarioSource): Misfit[] {
  const say = (what: string): Misfit[] => [{ path: ["sensors", name], what }];
  const position = sensor.kind === "position";
  if (source.signal !== undefined) {
    if (sensor.channel === undefined) return say("Expected channel: its source has one reading a row");
    if (position ? source.latitude === undefined || source.longitude === undefined : source.value === undefined) return say(`Expected its source to name ${position ? "latitude and longitude columns" : "a value column"}`);
    return [];
  }
  if (position ? sensor.columns === undefined : sensor.column === undefined) return say(`Expected ${position ? "columns: { latitude, longitude }" : "column"}: its source has a column a signal`);
  return [];
}

/** Every local date or instant in the file that must exist in the calendar. */
function instantsOf(scenario: ScenarioParts): { path: (string | number)[]; instant: string }[] {
  return [
    { path: ["period", "from"], instant: scenario.period.from },
    { path: ["period", "to"], instant: scenario.period.to },
    ...scenario.events.map((event, at) => ({ path: ["events", at, "on"], instant: event.on })),
    ...Object.entries(scenario.sensors).flatMap(([name, { faults }]) => [
      ...faults.stuck.map(({ from }, i) => ({ path: ["sensors", name, "faults", "stuck", i, "from"], instant: from })),
      ...faults.silences.map(({ from }, i) => ({ path: ["sensors", name, "faults", "silences", i, "from"], instant: from })),
    ]),
    ...Object.entries(scenario.causes).flatMap(([name, cause]) => [
      ...cause.restarts.map(({ at }, i) => ({ path: ["causes", name, "restarts", i, "at"], instant: at })),
      ...cause.freezes.map(({ from }, i) => ({ path: ["causes", name, "freezes", i, "from"], instant: from })),
    ]),
  ];
}
