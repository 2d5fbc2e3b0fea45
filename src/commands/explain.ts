import { resolve } from "node:path";
import { DateTime } from "luxon";
import { explain, type AtomSaid, type Explanation, type RuleSaid, type Said } from "../result/explain.js";
import { findingsSchema, type Findings } from "../result/findings.js";
import { makeStampReader } from "../intake/stamp.js";
import { readSmallFile } from "../ground/small-file.js";
import { LARGEST_FINDINGS_BYTES } from "./finished-audits.js";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { parseDurationMs } from "../ground/duration.js";
import type { Firing } from "../result/rules.js";
import { plainWords, stateWords, stirWords } from "../site/state-words.js";
import { oneLine } from "./one-line.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";
import { isoText } from "../result/values.js";
import { decoded } from "../result/json-text.js";

/** What the command line asks of `keyworthy explain`. */
export interface ExplainRequest {
  readonly findingsFile: string;
  /** A local time of the site, or one with its offset. */
  readonly at: string;
  /** Half-width of the window, as a duration. */
  readonly around: string;
}

/** Says what every signal said around a moment and why each rule did or did not fire, from a findings.json alone. */
export async function runExplain(request: ExplainRequest, around: Surroundings): Promise<ExitStatus> {
  const findings = await readFindings(request.findingsFile, around);
  if (findings.histories === null) {
    throw refusal({ code: "result-broken", what: "These findings hold no histories: they were made for sharing", file: request.findingsFile, expected: "the findings.json of an audit without --redact" });
  }
  const at = makeStampReader({ written: "iso", zone: findings.site.timeZone, skippedHour: "shift" }).read(request.at);
  const aroundMs = parseDurationMs(request.around);
  const problems: ProblemParts[] = [];
  if (!Number.isFinite(at)) problems.push({ code: "command-line", what: `--at ${request.at} is not a time`, expected: "a time of the site such as 2026-10-01T17:32, or one with its offset", found: request.at });
  else if (at < findings.period.from || at >= findings.period.to) {
    problems.push({ code: "command-line", what: `--at ${request.at} is outside the period of these findings`, expected: `a time from ${isoText(findings.period.from)} to ${isoText(findings.period.to)}`, found: isoText(at) });
  }
  if (aroundMs === null || aroundMs < 0) problems.push({ code: "command-line", what: `--around ${request.around} is not a length of time`, expected: "a length such as 10min", found: request.around });
  if (problems.length > 0 || aroundMs === null) throw new InputError(problems);
  around.say(explanationText(findings, explain(findings, at, aroundMs)));
  return 0;
}

async function readFindings(file: string, around: Surroundings): Promise<Findings> {
  const bytes = await readSmallFile(resolve(around.folder, file), { name: file, expected: "the findings.json of an audit", mostBytes: LARGEST_FINDINGS_BYTES }).catch((error: unknown) => {
    if (error instanceof InputError) throw error;
    throw refusal({ code: "file-missing", what: `The findings cannot be read (${error instanceof Error ? error.message : String(error)})`, file, mend: "name the findings.json of an audit" });
  });
  let data: unknown;
  try {
    data = JSON.parse(bytes.toString("utf8"));
  } catch {
    throw refusal({ code: "result-broken", what: "The file is not JSON", file, expected: "the findings.json of an audit" });
  }
  const parsed = decoded(findingsSchema, data);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  throw refusal({ code: "result-broken", what: `The file holds no findings of this version (${issue?.path.join(".") ?? ""}: ${issue?.message ?? ""})`, file, expected: "the findings.json of an audit by this version", mend: "run the audit again" });
}

function refusal(problem: ProblemParts): InputError {
  return new InputError([problem]);
}

/** The explanation as lines for a terminal. Control characters in names are made harmless. */
function explanationText(findings: Findings, said: Explanation): string {
  const zone = findings.site.timeZone;
  const time = (instant: number): string => local(instant, zone).toFormat("HH:mm:ss");
  const day = (instant: number): string => (local(instant, zone).hasSame(local(said.at, zone), "day") ? time(instant) : local(instant, zone).toFormat("d LLL HH:mm:ss"));
  const classOf = new Map(findings.site.subjects.map(({ id, class: subjectClass }) => [id, subjectClass]));
  const stirs = new Set(findings.signals.flatMap(({ signal, kind }) => (kind === "stir" ? [signal] : [])));
  const words = (one: Said): { on: string; off: string } => {
    if (stirs.has(one.name)) return stirWords;
    const subjectClass = classOf.get(one.subject);
    return subjectClass === undefined ? plainWords : stateWords[subjectClass];
  };
  const width = Math.max(0, ...[...said.signals, ...said.subjects].map(({ name }) => name.length));
  const line = (one: Said): string => {
    const word = (state: number): string => (state === 1 ? words(one).on : state === 0 ? words(one).off : "unknown");
    const since = one.since === null ? "from the beginning" : `since ${day(one.since)}`;
    const [before, after] = [one.steps.filter((step) => step.at <= said.at), one.steps.filter((step) => step.at > said.at)];
    const change = (step: { at: number; state: number }): string => `${word(step.state)} ${time(step.at)}`;
    return `  ${one.name.padEnd(width)}  ${word(one.state).padEnd(8)}  ${since}${before.length > 1 ? `; before: ${before.slice(0, -1).map(change).join(", ")}` : ""}${after.length > 0 ? `; then ${after.map(change).join(", ")}` : ""}`;
  };
  return `${[
    "",
    `${findings.site.name}, ${local(said.at, zone).toFormat("ccc d LLL yyyy, HH:mm:ss")} (${zone}), and from ${time(said.from)} to ${time(said.to)} around it`,
    "",
    "What the sensors said, as a rule would have seen it:",
    ...said.signals.map(line),
    "",
    "What most likely happened:",
    ...said.subjects.map(line),
    ...said.rules.flatMap((rule) => ["", ...ruleLines(rule, findings, { day, time })]),
  ]
    .map(oneLine)
    .join("\n")}\n`;
}

const stateText = ["false", "true", "unknown"] as const;

function ruleLines(rule: RuleSaid, findings: Findings, write: { day: (instant: number) => string; time: (instant: number) => string }): string[] {
  const act = findings.rules.find(({ name }) => name === rule.rule)?.act ?? "unlock";
  const since = rule.since === null ? "from the beginning of the period" : `since ${write.day(rule.since)}`;
  const atom = (one: AtomSaid): string => `    ${stateText[one.state].padEnd(7)}  ${one.text}${one.since === null ? "" : `, since ${write.day(one.since)}`}`;
  const others = rule.firings.filter((firing) => firing !== rule.firing);
  return [
    `${rule.rule}: ${firedText(rule, act, since, write)}`,
    ...rule.unserved.map((one) => `  ${actWords[act].needed} was needed at ${write.day(one.at)} (${one.outcome}). ${one.why}`),
    // What stood in the way of a wanted instant is told above; the fewest parts at this instant may be of another way.
    ...(rule.deciding.length === 0 || (rule.state !== 1 && rule.unserved.length > 0) ? [] : [`  ${rule.state === 1 ? "It depended on:" : "In the way:"}`, ...rule.deciding.map(atom)]),
    ...(rule.atoms.length <= rule.deciding.length ? [] : ["  All its parts:", ...rule.atoms.map(atom)]),
    ...(rule.firing === null ? [] : [`  ${rule.firing.why}${culpritText(rule.firing)}`]),
    ...others.map((firing) => `  It would have ${actWords[act].done} at ${write.day(firing.at)} (${firing.outcome}). ${firing.why}${culpritText(firing)}`),
    ...rule.nearMisses.map(
      (miss) =>
        `  From ${write.day(miss.from)} to ${write.day(miss.to)} one sensor alone kept it from acting wrongly (${miss.verified ? "confirmed" : "not confirmed"}): ${miss.inTheWay.join(" or ")}. ${miss.why}`,
    ),
  ];
}

/** Who reported falsely, of a wrong firing; empty of all others. */
function culpritText({ culprit }: Firing): string {
  return culprit === null ? "" : ` ${culprit.text}`;
}

const actWords = {
  unlock: { done: "unlocked", needed: "An unlock" },
  lock: { done: "locked", needed: "A locking" },
  disarm: { done: "disarmed", needed: "A disarming" },
  arm: { done: "armed", needed: "An arming" },
} as const;

function firedText(rule: RuleSaid, act: keyof typeof actWords, since: string, write: { day: (instant: number) => string }): string {
  if (rule.state === 2) return `did not fire: its condition was unknown ${since}, which counts as false.`;
  if (rule.state === 0) return `did not fire: its condition was false ${since}.`;
  if (rule.firing !== null) return `its condition was true ${since}, and at ${write.day(rule.firing.at)} it would have ${actWords[act].done} (${rule.firing.outcome}).`;
  if (rule.rested) return `its condition was true ${since}, but it was resting after an earlier firing.`;
  return `its condition was true ${since}. It fires only at the moment when the condition turns true.`;
}

function local(instant: number, zone: string): DateTime {
  return DateTime.fromMillis(instant, { zone, locale: "en" });
}
