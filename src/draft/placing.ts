import { subjectClasses } from "../site/draft.js";
import type { SubjectClass } from "../site/site.js";
import { changesOf, together } from "./changes.js";
import { classSignals, LEAST_TOGETHER, type Classed } from "./classing.js";
import type { FoundSignal, LeftOut, Placing } from "./found.js";
import { freeName, subjectStem } from "./names.js";
import type { Answers, DraftQuestion } from "./questions.js";
import { shown } from "./shown.js";

/** Signals that turn on less often show nothing by changes that do not come together (our own choice). */
const FEWEST_COMPARED = 5;

/** What the signals watch, and those that seem to be of nothing that a site file knows. */
export interface Placed {
  readonly placings: readonly Placing[];
  readonly leftOut: readonly LeftOut[];
}

/**
 * What each signal watches: its class, as {@link classSignals} has it, and its subject: bays and doors are told apart by changes that come
 * together, then by names with a common stem; people by names alone, as two people may well come and go together.
 */
export function placeSignals(signals: readonly FoundSignal[], taken: Set<string>, answers: Answers = new Map()): Placed {
  const { classed, leftOut } = classSignals(signals.map((signal) => ({ signal, changes: changesOf(signal) })), answers);
  const placings = subjectClasses.flatMap((subjectClass) =>
    groupsOf(
      subjectClass,
      classed.filter((one) => one.class === subjectClass),
      answers,
    ).flatMap((group, i) => {
      const named = answers.get(`whose:${group[0].one.signal.id}`);
      const subject = named === undefined ? subjectName(subjectClass, group, i, taken) : freeName(named, taken);
      return group.map((member) => placingOf(member, subject));
    }),
  );
  return { placings, leftOut };
}

/** A signal in its group; `joined` says why it is there, null for the first of a group. */
interface Member {
  readonly one: Classed;
  readonly joined: string | null;
  /** A question about its group. */
  readonly open: DraftQuestion | null;
}

/** The signals of one subject: at least one. */
type Group = [Member, ...Member[]];

/** A group that a signal may join, and how likely: the largest likeness to a member, 0..1. */
interface GroupLikeness {
  readonly group: Group;
  readonly likeness: number;
}

/** Puts signals of one class into groups, a subject each. */
function groupsOf(subjectClass: SubjectClass, signals: readonly Classed[], answers: Answers): Group[] {
  const groups: Group[] = [];
  for (const one of signals) {
    if (one.stirs === true) {
      const household = groups.find((group) => group[0].one.stirs === true);
      if (household === undefined) groups.push([{ one, joined: null, open: null }]);
      else household.push({ one, joined: null, open: null });
      continue;
    }
    const stem = subjectStem(one.signal.called);
    const said = answers.get(`with:${one.signal.id}`);
    const bySaying = groups.find((group) => group.some((member) => member.one.signal.id === said));
    const byName = groups.find((group) => group[0].one.stirs !== true && stem !== "" && subjectStem(group[0].one.signal.called) === stem) ?? null;
    // People may well come and go together.
    const byChanges = subjectClass === "person" ? null : likeliestGroup(one, groups);
    if (bySaying !== undefined) bySaying.push({ one, joined: `you said that it is with ${said ?? ""}`, open: null });
    else if (said === "alone") groups.push([{ one, joined: null, open: null }]);
    else if (byChanges !== null) byChanges.group.push(joinedByChanges(one, byChanges, byName, subjectClass));
    else if (byName !== null) byName.push(joinedByName(one, byName, subjectClass));
    else groups.push([{ one, joined: null, open: null }]);
  }
  return groups;
}

/** The group whose changes come together most with a signal's; null when none does for more than half. */
function likeliestGroup(one: Classed, groups: readonly Group[]): GroupLikeness | null {
  const [best] = groups
    .map((group) => ({ group, likeness: Math.max(...group.map((member) => likeness(one, member.one))) }))
    .sort((a, b) => b.likeness - a.likeness);
  return best !== undefined && best.likeness >= LEAST_TOGETHER ? best : null;
}

function joinedByChanges(
  one: Classed,
  { group, likeness: share }: GroupLikeness,
  byName: Group | null,
  subjectClass: SubjectClass,
): Member {
  const partner = group[0].one.signal.id;
  const named = byName === group ? `, and both names have ${shown(subjectStem(one.signal.called))}` : "";
  const isClash = byName !== null && byName !== group;
  return {
    one,
    joined: `${Math.round(100 * share)} % of its changes and those of ${partner} come in pairs${named}`,
    open: isClash
      ? withQuestion(
          one.signal,
          `which ${subjectClass} does it watch? By its changes that of ${partner}, by its name that of ${byName[0].one.signal.id}`,
          [partner, byName[0].one.signal.id],
        )
      : null,
  };
}

function joinedByName(one: Classed, [first]: Group, subjectClass: SubjectClass): Member {
  const partner = first.one.signal.id;
  // A name alone is no proof when the changes speak against it.
  const isDoubtful = subjectClass !== "person" && canBeCompared(one) && canBeCompared(first.one);
  return {
    one,
    joined: `its name and that of ${partner} have ${shown(subjectStem(one.signal.called))} in common`,
    open: isDoubtful
      ? withQuestion(
          one.signal,
          `does it watch the same ${subjectClass} as ${partner}? The names say so, but their changes do not come together`,
          [partner],
        )
      : null,
  };
}

function withQuestion({ id }: FoundSignal, text: string, partners: readonly string[]): DraftQuestion {
  return {
    id: `with:${id}`,
    text: `signal ${id}: ${text}`,
    choices: [...partners.map((partner) => ({ answer: partner, says: `That of ${partner}` })), { answer: "alone", says: "Another, of its own" }],
    typed: null,
    weight: "stands in",
  };
}

function placingOf({ one, joined, open }: Member, subject: string): Placing {
  return {
    signal: one.signal,
    subject,
    class: one.class,
    ...(one.stirs === true ? { stirs: true } : {}),
    evidence: joined === null ? one.why : `${one.why}; ${joined}`,
    open: one.open ?? open,
    direction: one.direction,
  };
}

function likeness(a: Classed, b: Classed): number {
  if (a.direction === null || b.direction === null) return 0;
  const { same, reversed } = together(a.changes, b.changes);
  return a.direction === b.direction ? same : reversed;
}

function canBeCompared({ direction, changes }: Classed): boolean {
  return direction !== null && changes.on.length >= FEWEST_COMPARED;
}

/** The stem that all names of a group share, else the class and a number. */
function subjectName(subjectClass: SubjectClass, group: Group, index: number, taken: Set<string>): string {
  if (group[0].one.stirs === true) return freeName("household", taken);
  const [stem, ...others] = group.map(({ one }) => subjectStem(one.signal.called)).filter((text) => text !== "");
  const common = stem !== undefined && others.every((other) => other === stem) ? stem : null;
  const numbered = `${subjectClass}-${index + 1}`;
  // A subject may be called as its own sensor is, not as another's.
  const free = (name: string): string => (group.some(({ one }) => one.signal.id === name) ? name : freeName(name, taken));
  if (subjectClass === "person" || common === null) return free(common ?? numbered);
  if (/^\p{N}+$/u.test(common)) return free(`${subjectClass}-${common}`);
  return free(/\p{N}/u.test(common) || common.length > 2 ? common : numbered);
}
