import type { Placing } from "./found.js";
import { choicesOf, type Answers, type DraftQuestion } from "./questions.js";
import { scalar, type YamlLines } from "./yaml-lines.js";

/** Why no rule can be proposed; null where one can. */
export function whyNoRule(placings: readonly Placing[]): string | null {
  if (placings.some(({ class: one }) => one !== "door")) return null;
  return "no person and no bay was found: a rule that unlocks or locks needs one of them to be judged by. Add the export of a phone or of a bay's sensor";
}

/** What the person may have judged at once; none of it is missing without an answer. */
export function ruleQuestions(placings: readonly Placing[], answers: Answers): DraftQuestion[] {
  if (whyNoRule(placings) !== null) return [];
  const rules = answers.get("rules") ?? "";
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
        { answer: "unlock lock", says: "Both: unlock on arrival, and lock when all have left" },
        { answer: "unlock", says: "Only: unlock on arrival" },
        { answer: "lock", says: "Only: lock when all have left" },
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
  const any = chosen.includes("unlock") || chosen.includes("lock");
  lines.add("# Rules to be judged: patterns only. Take the # away from those you mean, and change them. See docs/site-file.md.");
  lines.add(`${any ? "" : "# "}rules:`);
  for (const { act, text } of patternsFor(placings)) for (const line of text) lines.add(`${chosen.includes(act) ? "" : "# "}${line}`);
  lines.add(any ? "" : "#");
  writeLimits(lines, answers);
}

function writeLimits(lines: YamlLines, answers: Answers): void {
  const said = (["unlock", "lock"] as const).map((act) => ({ act, rate: answers.get(`limit:${act}`) }));
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

function patternsFor(placings: readonly Placing[]): { readonly act: string; readonly text: readonly string[] }[] {
  const has = (subjectClass: Placing["class"]): boolean => placings.some((placing) => placing.class === subjectClass);
  const arrival = [
    has("bay") ? "{ some: bays, turned: occupied, within: 2min }" : "",
    has("door") ? "{ some: doors, is: open, recently: 3min }" : "",
    has("person") ? "{ some: people, turned: here, within: 10min }" : "",
  ].filter((one) => one !== "");
  const departure = [
    has("bay") ? "{ every: bays, is: empty }" : "",
    has("door") ? "{ every: doors, is: closed }" : "",
    has("person") ? "{ every: people, is: away, held: 5min }" : "",
  ].filter((one) => one !== "");
  // By itself an unlock is right, and wanted, whenever a person comes: who walks home would be missed by a rule about vehicles.
  const rightWhen =
    has("bay") && has("person")
      ? ["    # meant for who comes with a vehicle; without this line it is to act for who comes on foot too", "    right_when: { all: [ { some: bays, turned: occupied, within: 15min }, { some: people, turned: here, within: 15min } ] }"]
      : [];
  const rule = (name: string, act: string, when: readonly string[], right: readonly string[], rest: string) => ({
    act,
    text: [`  - name: ${name}`, `    act: ${act}`, `    when: { all: [ ${when.join(", ")} ] }`, ...right, `    rest: ${rest}`],
  });
  return [rule("unlock on arrival", "unlock", arrival, rightWhen, "5min"), rule("lock when all have left", "lock", departure, [], "10min")];
}
