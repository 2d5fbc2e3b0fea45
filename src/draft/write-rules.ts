import type { Placing } from "./found.js";
import { choicesOf, type Answers, type DraftQuestion } from "./questions.js";
import { mainDoor } from "./main-door.js";
import { graceMinutes, peopleOnlyStir } from "./stirs.js";
import { scalar, type YamlLines } from "./yaml-lines.js";

/** Why no rule can be proposed; null where one can. */
export function whyNoRule(placings: readonly Placing[]): string | null {
  if (placings.some(({ class: one }) => one !== "door")) return null;
  return "no person and no bay was found: a rule that unlocks or locks needs one of them to be judged by. Add the export of a phone or of a bay's sensor";
}

/** What is to be said of the whole before all else; null where nothing is. */
export function noteFirst(placings: readonly Placing[]): string | null {
  if (!peopleOnlyStir(placings)) return whyNoRule(placings);
  const none = placings.some(({ class: one }) => one === "bay") ? "no person was found" : "no person and no vehicle was found";
  return (
    `${none}: movement and the doors alone tell whether somebody is at home. Silence proves nothing, so no lock counts as right before a diary says when ` +
    "nobody was at home; and a rule that unlocks has nobody to know by. The export of a phone helps most"
  );
}

/** What the person may have judged at once; none of it is missing without an answer. */
export function ruleQuestions(placings: readonly Placing[], answers: Answers): DraftQuestion[] {
  if (whyNoRule(placings) !== null) return [];
  const rules = answers.get("rules") ?? "";
  const patterns = patternsFor(placings);
  const rates = ["once in 10 years", "once in 2 years", "once a year", "6 times a year"];
  const limit = (act: "unlock" | "lock", harm: string): DraftQuestion => ({
    id: `limit:${act}`,
    text: `how often may the rule ${act} wrongly? ${harm} Without an answer it is described, but never cleared`,
    choices: choicesOf(rates),
    typed: null,
    weight: "offer",
  });
  return [
    {
      id: "rules",
      text: "which rules shall be judged? They are patterns to begin with; change them in the site file",
      choices: [
        ...(patterns.length > 1 ? [{ answer: "unlock lock", says: `Both: ${patterns.map(({ name }) => name).join(", and ")}` }] : []),
        ...patterns.map(({ act, name }) => ({ answer: act, says: `Only: ${name}` })),
        { answer: "none", says: "None yet: only look at the sensors" },
      ],
      typed: null,
      weight: "offer",
    },
    ...(rules.split(" ").includes("unlock") ? [limit("unlock", "A wrong unlock leaves the house open to anybody.")] : []),
    ...(rules.split(" ").includes("lock") ? [limit("lock", "A wrong lock may leave somebody outside.")] : []),
  ];
}

/**
 * Writes rules and limits to start from, as comments where the person has not chosen them. The patterns ask for independent witnesses of
 * each kind that the site has.
 */
export function writeRules(lines: YamlLines, placings: readonly Placing[], answers: Answers): void {
  lines.add("# What somebody wrote down as certain (CSV with subject,state,from,to) makes every figure better:");
  lines.add("# diary: { files: diary.csv }");
  lines.add("#");
  const none = whyNoRule(placings);
  if (none !== null) {
    lines.note(0, `rules: ${none}.`);
    return;
  }
  const chosen = (answers.get("rules") ?? "").split(" ");
  const patterns = patternsFor(placings);
  const any = patterns.some(({ act }) => chosen.includes(act));
  lines.add("# Rules to be judged: patterns only. Take the # away from those you mean, and change them. See docs/site-file.md.");
  lines.add(`${any ? "" : "# "}rules:`);
  for (const { act, text } of patterns) for (const line of text) lines.add(`${chosen.includes(act) ? "" : "# "}${line}`);
  lines.add(any ? "" : "#");
  writeLimits(lines, patterns.map(({ act }) => act), answers);
}

function writeLimits(lines: YamlLines, acts: readonly Act[], answers: Answers): void {
  const said = acts.map((act) => ({ act, rate: answers.get(`limit:${act}`) }));
  const any = said.some(({ rate }) => rate !== undefined);
  lines.add(`# What you accept of them. ${any ? "`missed_share` and `within` are our own choice" : "These numbers are examples, not advice"}:`);
  lines.add(`${any ? "" : "# "}limits:`);
  lines.add(`${any ? "" : "# "}  confidence: 0.95`);
  const within = { unlock: "2min", lock: "15min" };
  const example = { unlock: "wrong_per_year: 0.5", lock: "wrong_per_year: 2" };
  for (const { act, rate } of said) {
    const often = rate === undefined ? example[act] : `at_most: ${scalar(rate)}`;
    lines.add(`${rate === undefined ? "# " : ""}  ${act}: { ${often}, missed_share: 0.10, within: ${within[act]} }`);
  }
}

type Act = "unlock" | "lock";

/** A rule to start from. */
interface Pattern {
  readonly act: Act;
  readonly name: string;
  readonly text: readonly string[];
}

function patternsFor(placings: readonly Placing[]): Pattern[] {
  const has = (subjectClass: Placing["class"]): boolean => placings.some((placing) => placing.class === subjectClass);
  const people = placings.filter((placing) => placing.class === "person" && placing.stirs !== true).map(({ signal }) => signal.id);
  const hasStirs = placings.some(({ stirs }) => stirs === true);
  // Of a household that only stirs nothing can tell that it is away: then the others are named one by one.
  const each = (said: string): string[] => people.map((id) => `{ signal: ${scalar(id)}, ${said} }`);
  const some = people.length === 0 ? "" : hasStirs ? `{ any: [ ${each("turned: here, within: 10min").join(", ")} ] }` : "{ some: people, turned: here, within: 10min }";
  const every = people.length === 0 ? [] : hasStirs ? each("is: away, held: 5min") : ["{ every: people, is: away, held: 5min }"];
  const arrival = [
    has("bay") ? "{ some: bays, turned: occupied, within: 2min }" : "",
    has("door") ? "{ some: doors, is: open, recently: 3min }" : "",
    some,
  ].filter((one) => one !== "");
  const departure = [has("bay") ? "{ every: bays, is: empty }" : "", has("door") ? "{ every: doors, is: closed }" : "", ...every, ...(hasStirs ? stillConditions(placings) : [])].filter((one) => one !== "");
  // By itself an unlock is right, and wanted, whenever a person comes: who walks home would be missed by a rule about vehicles.
  const rightWhen =
    has("bay") && people.length > 0
      ? ["    # meant for who comes with a vehicle; without this line it is to act for who comes on foot too", "    right_when: { all: [ { some: bays, turned: occupied, within: 15min }, { some: people, turned: here, within: 15min } ] }"]
      : [];
  const rule = (name: string, act: Act, when: readonly string[], right: readonly string[], rest: string): Pattern => ({
    act,
    name,
    text: [`  - name: ${name}`, `    act: ${act}`, `    when: { all: [ ${when.join(", ")} ] }`, ...right, `    rest: ${rest}`],
  });
  const lock = rule(hasStirs ? "lock when nobody stirs" : "lock when all have left", "lock", departure, [], "10min");
  return peopleOnlyStir(placings) && !has("bay") ? [lock] : [rule("unlock on arrival", "unlock", arrival, rightWhen, "5min"), lock];
}

/** Nothing stirs for a while; and, where there is a door, nothing since it shut. */
function stillConditions(placings: readonly Placing[]): string[] {
  const door = mainDoor(placings);
  if (door === null) return ["{ every: stirs, is: still, held: 1h }"];
  const since = `{ every: stirs, is: still, since: { signal: ${scalar(door)}, turned: closed, grace: ${graceMinutes(placings)}min } }`;
  return ["{ every: stirs, is: still, held: 10min }", since];
}
