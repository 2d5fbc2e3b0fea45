import { expect, test } from "vitest";
import { InputError } from "../../src/ground/problem.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { yearScenarioText } from "./year-scenario.js";

/** What stands in the text at a complaint's place. */
function textAt(text: string, complaint: string): string {
  const [, line, column] = /^s\.yaml:(\d+):(\d+): /.exec(complaint)!;
  return text.split("\n")[Number(line) - 1]!.slice(Number(column) - 1);
}

/** The lines of the message, as a user would see them. */
function complaints(text: string): string[] {
  try {
    parseScenario(text, "s.yaml");
  } catch (error) {
    if (error instanceof InputError) return error.message.split("\n");
    throw error;
  }
  return [];
}

test("a scenario is read: durations in milliseconds, day words as lists, defaults filled in", () => {
  const scenario = parseScenario(yearScenarioText(), "s.yaml");
  expect(scenario.period.lead).toBe(2 * 3_600_000);
  expect(scenario.routine[0]).toMatchObject({ leaves: "07:30", away: 4 * 3_600_000, days: ["mon", "tue", "wed", "thu", "fri", "sat", "sun"], chance: 1 });
  expect(scenario.sensors["meter-missing"]!.faults).toMatchObject({ miss: 0.05, miss_off: 0, stuck: [], lag: {} });
  expect(scenario.siteText).toContain("rules:");
});

test("YAML that does not parse is pointed at", () => {
  expect(complaints("scenario: [x\nseed: 1")[0]).toMatch(/^s\.yaml:2:1: .* To mend it: correct the YAML\.$/);
});

test.each([
  ["an alias of nothing", { "seed: 7": "seed: *a" }, "unresolved alias (the anchor must be set before the alias): a"],
  ["aliases within aliases without end", { "seed: 7": `x: [&a0 [1], ${Array.from({ length: 9 }, (_, i) => `&a${i + 1} [${Array.from({ length: 10 }, () => `*a${i}`).join(", ")}]`).join(", ")}]` }, "excessive alias count indicates a resource exhaustion attack"],
  ["a site that means what stands above it", { "seed: 7": "seed: &n 7", "act: lock": "act: lock, note: *n" }, "unresolved alias (the anchor must be set before the alias): n"],
])("%s is refused as YAML that cannot be read", (_what, replace, found) => {
  expect(complaints(yearScenarioText(replace))).toEqual([`s.yaml: The file cannot be read as YAML. Found ${found}. To mend it: write values out where aliases stand.`]);
});

test("brackets within brackets without end are refused at once", () => {
  expect(complaints(yearScenarioText({ "seed: 7": `seed: ${"[".repeat(10_000_000)}` }))).toEqual(["s.yaml:3: The file has too many brackets within brackets."]);
});

test("more lines than any scenario needs are refused at once", () => {
  expect(complaints(yearScenarioText({ "seed: 7": "a:\n".repeat(1_000_000) }))).toEqual([expect.stringMatching(/^s\.yaml:150\d\d: The file is too long: up to here it has more than 30,000 line ends, colons, commas and marks\.$/)]);
});

test("of many mistakes only the first are told", () => {
  expect(complaints(yearScenarioText({ "seed: 7": "]\n".repeat(100) }))).toHaveLength(10);
});

test("a missing key, an unknown key and a wrong value are told together, each with its line and column", () => {
  const text = yearScenarioText({ "seed: 7\n": "", "miss: 0.05": "mis: 0.05", "leaves: \"07:30\", away: 4h": 'leaves: "7.30", away: 4 hours' });
  expect(complaints(text).slice(1).map((complaint) => textAt(text, complaint).split(" ")[0])).toEqual(["leaves:", "away:", "mis:"]);
  expect(complaints(text)).toEqual([
    "s.yaml:2:1: seed: Expected a number; found nothing.",
    's.yaml:9:79: routine.0.leaves: Expected a local time such as 07:45.',
    's.yaml:9:95: routine.0.away: Expected a duration such as 40s, 3min, 2h or 10d; found "4 hours".',
    "s.yaml:20:78: sensors.meter-missing.faults.mis: Expected no key of this name here.",
  ]);
});

test.each([
  ["a text for a number", { "seed: 7": "seed: seven" }, 's.yaml:3:1: seed: Expected a number; found "seven".'],
  ["a share above one", { "miss: 0.05": "miss: 5" }, "s.yaml:21:78: sensors.meter-missing.faults.miss: Expected at most 1; found 5."],
  ["days that are none", { "days: daily": "days: sundays" }, /^s\.yaml:\d+:\d+: routine\.0\.days: Expected one of daily, weekdays, weekends, or a list; found "sundays"\.$/],
  ["an unknown kind", { "kind: contact": "kind: contakt" }, /^s\.yaml:\d+:\d+: sensors\.[\w-]+\.kind: Expected one of [\w, ]*contact[\w, ]*; found "contakt"\.$/],
])("%s is told as what was expected and what was found", (_what, replace, message) => {
  expect(complaints(yearScenarioText(replace))[0]).toMatch(message);
});

test.each([
  ["an unknown zone", { "Europe/Berlin": "Europe/Nowhere" }, 's.yaml:4:1: timezone: Expected a time zone such as Europe/London.'],
  ["an empty period", { "to: 2027-01-01": "to: 2026-01-01" }, "s.yaml:5:29: period.to: Expected a day after period.from."],
  ["a day that does not exist", { "to: 2027-01-01": "to: 2027-02-30" }, 's.yaml:5:29: period.to: Expected a day that exists; found "2027-02-30".'],
  ["an unknown person", { "who: [ada]": "who: [bob]" }, 's.yaml:10:28: routine.0.who.0: Expected the name of a person (ada); found "bob".'],
  ["an unknown door", { "through: barn-door": "through: cat-flap" }, 's.yaml:10:46: routine.0.through: Expected the name of a door (barn-door); found "cat-flap".'],
  ["an unlisted cause", { "shares: [board]": "shares: [rack]" }, 's.yaml:20:79: sensors.meter-missing.shares.0: Expected the name of a shared cause (list it under causes, with {} if nothing happens to it) (board, hub); found "rack".'],
  ["a trip that never ends", { ", away: 4h": "" }, "s.yaml:10:5: routine.0: Expected leaves and away together."],
  ["two movements in one", { ", away: 4h": ', away: 4h, opens: "09:00", for: 1min' }, "s.yaml:10:5: routine.0: Expected one of: leaves with away (out and back), arrives with stays (in and out), opens with for (a door)."],
  ["a sensor that never reports", { "channel: c1,": "channel: c1, on_change: false," }, "s.yaml:26:48: sensors.contact-bouncing.on_change: Expected every, or on_change: true; this sensor would never report."],
  ["a meter on a door", { "on: bay-1, source: log, channel: m1": "on: barn-door, source: log, channel: m1" }, 's.yaml:20:7: sensors.meter-missing.on: Expected a bay: only bays have distance meters; found "barn-door".'],
  ["a channel missing", { "channel: m1, ": "" }, "s.yaml:19:3: sensors.meter-missing: Expected channel: its source has one reading a row."],
  ["a name used twice", { "people: { ada: {} }": "people: { ada: {}, bay-1: {} }" }, 's.yaml:6:20: people.bay-1: Expected each subject\'s name once; "bay-1" is the name of two subjects.'],
  ["a door that takes too long", { "barn-door: {}": "barn-door: { closes_after: [1min, 4min] }" }, "s.yaml:8:10: doors.barn-door: Expected opens_before and closes_after of 200s together at most: nothing passes twice within 4 minutes."],
  ["a path out of the folder", { "exports/log.csv": "../log.csv" }, "s.yaml:17:10: sources.log.files: Expected a path below the output folder, ending in .csv or .csv.gz, with at most one *."],
])("%s is refused", (_what, replace, message) => {
  const text = yearScenarioText(replace);
  expect(complaints(text)).toEqual([message]);
  // The place is that of the key (or list item) that the message names last.
  const named = /: ([\w.-]+): /.exec(message)![1]!.split(".").at(-1)!;
  if (!/^\d+$/.test(named)) expect(textAt(text, message)).toMatch(new RegExp(`^${named}:`));
});
