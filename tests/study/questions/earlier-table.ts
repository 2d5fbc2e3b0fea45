import type { Findings } from "../../../src/index.js";
import { MINUTE, type Span, type World } from "../verdict/world.js";
import type { Row } from "./person.js";

const looksFirst = ["wrong", "unclear", "right"];
/** Facts look back so far, and acting may be early or late by so much. */
const REACH = { person: 15 * MINUTE, bay: 15 * MINUTE };
const SLACK = 3 * MINUTE;

/**
 * The table to fill in as it was before there were questions: for each moment that nobody verified, what looked wrong first, then by time,
 * a row a subject over the time the facts look at, cut where its sensor changed; without what the diary says, and no time twice.
 */
export function earlierTable(findings: Findings, world: World): Omit<Row, "state">[] {
  const [rule] = findings.rules;
  if (rule === undefined) return [];
  const firings = rule.firingList.filter(({ outcome }) => outcome === "unverified").map(({ at, looks }) => ({ at, looks: looksFirst.indexOf(looks) }));
  const wanted = rule.wantedList.filter(({ verified }) => !verified).map(({ at }) => ({ at, looks: 2 }));
  const moments = [...firings, ...wanted].toSorted((a, b) => a.looks - b.looks || a.at - b.at);
  const told = new Map(world.subjects.map(({ id }) => [id, world.diary.filter(({ subject }) => subject === id).map(({ from, to }): Span => ({ from, to }))]));
  return moments.flatMap(({ at }) =>
    world.subjects.flatMap(({ id, class: subjectClass }): Omit<Row, "state">[] => {
      if (subjectClass === "door") return [];
      const window = { from: Math.max(world.from, at - REACH[subjectClass] - SLACK), to: Math.min(world.to, at + SLACK) };
      const before = told.get(id) ?? [];
      const left = without(window, before);
      told.set(id, [...before, window]);
      return left.flatMap((one) => cutAt(one, changesOf(id, world)).map((part) => ({ subject: id, ...part })));
    }),
  );
}

function changesOf(subject: string, world: World): number[] {
  return (world.sensors.find(({ on }) => on === subject)?.steps ?? []).map(({ at }) => at);
}

function cutAt({ from, to }: Span, changes: readonly number[]): Span[] {
  const edges = [from, ...changes.filter((at) => at > from && at < to), to];
  return edges.slice(1).map((end, i) => ({ from: edges[i] ?? from, to: end }));
}

function without(window: Span, told: readonly Span[]): Span[] {
  return told.reduce<Span[]>((left, one) => left.flatMap(({ from, to }) => [{ from, to: Math.min(to, one.from) }, { from: Math.max(from, one.to), to }].filter((part) => part.from < part.to)), [window]);
}
