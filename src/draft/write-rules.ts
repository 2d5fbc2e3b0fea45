import type { Placing } from "./found.js";
import type { YamlLines } from "./yaml-lines.js";

/**
 * Writes rules and limits to start from, all as comments: the person decides what to unlock and what is acceptable. The
 * patterns ask for independent witnesses of each kind that the site has.
 */
export function writeRules(lines: YamlLines, placings: readonly Placing[]): void {
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
  for (const text of [
    "What somebody wrote down as certain (CSV with subject,state,from,to) makes every figure better:",
    "diary: { files: diary.csv }",
    "",
    "Rules to be judged: patterns only. Take the # away from those you mean, and change them. See docs/site-file.md.",
    "rules:",
    "  - name: unlock on arrival",
    "    act: unlock",
    `    when: { all: [ ${arrival.join(", ")} ] }`,
    "    rest: 5min",
    "  - name: lock when all have left",
    "    act: lock",
    `    when: { all: [ ${departure.join(", ")} ] }`,
    "    rest: 10min",
    "",
    "What you accept of them. These numbers are examples, not advice:",
    "limits:",
    "  confidence: 0.95",
    "  unlock: { wrong_per_year: 0.5, missed_share: 0.10, within: 2min }",
    "  lock: { wrong_per_year: 2, missed_share: 0.10, within: 15min }",
  ]) {
    lines.add(text === "" ? "" : `# ${text}`);
  }
}
