import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { decoded } from "../../../src/result/json-text.js";
import { findingsSchema, type Findings } from "../../../src/result/findings.js";
import type { MonthTruth, Turn } from "./month.js";

/** An episode this near a true turn is of it. */
const NEAR_MS = 5 * 60_000;

/** How a report's arrivals and departures go with the truth. */
export interface Judged {
  /** The signals of each subject, and its class. */
  readonly groups: Readonly<Record<string, string>>;
  /** True turns of own vehicles and people, and how many of them no episode of the kind is near. */
  readonly turns: number;
  readonly missed: number;
  /** Episodes of bays and people that no true turn of the kind is near, as `bay-2 one`: the subjects and what vouched for them. */
  readonly invented: readonly string[];
  readonly episodes: number;
}

/** The findings of a report. */
export async function findingsOf(folder: string): Promise<Findings> {
  const read = decoded(findingsSchema, JSON.parse(await readFile(join(folder, "findings.json"), "utf8")));
  if (!read.success) throw new Error(read.error.message);
  return read.data;
}

/** Holds a report against the truth. Turns while there was no power are left out: nothing could see them. */
export function judgedBy(findings: Findings, truth: MonthTruth): Judged {
  const groups: Record<string, string[]> = {};
  for (const { signal, subject, subjectClass } of findings.signals) (groups[`${subjectClass} ${subject}`] ??= []).push(signal);
  const seen = (turns: readonly Turn[]): Turn[] => turns.filter(({ at }) => at < truth.outage.from || at > truth.outage.to + NEAR_MS);
  const turns = seen([...truth.bays[0], ...truth.bays[1], ...truth.people.ines, ...truth.people.karel]);
  // The meter cannot tell a visitor's vehicle from anything else that stands there: it says that it does not know.
  const own = turns.filter(({ at }) => !truth.visits.some(({ from, to }) => at === from || at === to));
  const episodes = findings.episodes.filter(({ subjects }) => subjects.some((subject) => findings.site.subjects.some(({ id, class: one }) => id === subject && one !== "door")));
  const isOf = ({ kind, from, to }: Findings["episodes"][number], { at, on }: Turn): boolean =>
    (kind === "arrival") === on && at >= from - NEAR_MS && at <= to + NEAR_MS;
  return {
    groups: Object.fromEntries(Object.entries(groups).map(([subject, signals]) => [subject, signals.sort().join(" ")])),
    missed: own.filter((turn) => !episodes.some((episode) => isOf(episode, turn))).length,
    turns: own.length,
    invented: episodes.filter((episode) => !turns.some((turn) => isOf(episode, turn))).map(({ subjects, basis }) => `${subjects.join(" ")} ${basis}`),
    episodes: episodes.length,
  };
}
