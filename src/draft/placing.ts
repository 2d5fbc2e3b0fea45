import { subjectClasses } from "../site/draft.js";
import type { SubjectClass } from "../site/site.js";
import { changesOf, together, type Changes, type Together } from "./changes.js";
import type { FoundSignal, FoundSource, Placing } from "./found.js";
import { classHint, freeName, subjectStem } from "./names.js";
import { shown } from "./shown.js";

/** Two signals with more than this share of their changes in common watch one thing (our own choice). */
const LEAST_TOGETHER = 0.5;
/** Signals that turn on less often show nothing by changes that do not come together (our own choice). */
const FEWEST_COMPARED = 5;

/** A signal with its changes, found once for all comparisons. */
interface Watched {
  readonly signal: FoundSignal;
  readonly changes: Changes;
}

interface Classed extends Watched {
  readonly class: SubjectClass;
  readonly why: string;
  readonly open: string | null;
  readonly direction: Placing["direction"];
}

/**
 * What each signal watches. Its class: distances are of bays, words such as open and closed are of doors; plain words
 * take the class of the signal whose changes they share, or of their name. Its subject: bays and doors are told apart
 * by changes that come together, then by names with a common stem; people by names alone, as two people may well come
 * and go together.
 */
export function placeSignals(signals: readonly FoundSignal[], taken: Set<string>): Placing[] {
  const watched = signals.map((signal) => ({ signal, changes: changesOf(signal) }));
  const byThemselves = watched.map(classedByItself);
  const known = byThemselves.filter((one) => one !== null);
  const classed = watched.map((one, i) => byThemselves[i] ?? classedByOthers(one, known));
  return subjectClasses.flatMap((subjectClass) =>
    groupsOf(
      subjectClass,
      classed.filter((one) => one.class === subjectClass),
    ).flatMap((group, i) => {
      const subject = subjectName(subjectClass, group, i, taken);
      return group.map((member) => placingOf(member, subject));
    }),
  );
}

function classedByItself(watched: Watched): Classed | null {
  const { reading, name, source } = watched.signal;
  if (reading.form === "distance") {
    return { ...watched, class: "bay", why: "numbers: a distance meter, which watches a bay", open: null, direction: "as seen" };
  }
  if (reading.form === "position") {
    return {
      ...watched,
      class: "person",
      why: "latitude and longitude: somebody's place",
      open: whoseTracks(source),
      direction: "as seen",
    };
  }
  const { words } = reading;
  const [on, off] = [shown(words.on[0] ?? ""), shown(words.off[0] ?? "")];
  if (words.class !== null) {
    return { ...watched, class: words.class, why: `${on} and ${off} are said of a ${words.class}`, open: null, direction: "as seen" };
  }
  if (words.meaning !== "plain" || classHint(name) !== "bay") return null;
  return { ...watched, class: "bay", why: "by its name", open: `does ${on} mean occupied?`, direction: null };
}

/** Tracks rarely say who carried the device; a column or channel of places is named after somebody. */
function whoseTracks({ tables: [first] }: FoundSource): string | null {
  if (!first.traits.hasTracks) return null;
  return "whose place is it? If it is a vehicle's, name the person who drives it: the site file knows no places of vehicles";
}

/** By the signal whose changes it shares most, else by its name. */
function classedByOthers(watched: Watched, known: readonly Classed[]): Classed {
  const [best] = known
    .map((one) => ({ one, with: together(watched.changes, one.changes) }))
    .sort((a, b) => Math.max(b.with.same, b.with.reversed) - Math.max(a.with.same, a.with.reversed));
  if (best !== undefined && Math.max(best.with.same, best.with.reversed) >= LEAST_TOGETHER && best.one.direction !== null) {
    return classedByPartner(watched, best.one, best.with);
  }
  const { reading, name, source } = watched.signal;
  const words = reading.form === "words" ? [...reading.words.on, ...reading.words.off] : [];
  const hint = classHint(`${name} ${source.id}`);
  return {
    ...watched,
    class: hint ?? "door",
    why: hint === null ? "not known what it watches: taken for a door" : "by its name",
    open: `which of ${words.map(shown).join(" and ")} is on, and what does it watch? Nothing in the readings tells`,
    direction: null,
  };
}

function classedByPartner(watched: Watched, partner: Classed, common: Together): Classed {
  const named = classHint(watched.signal.name);
  const clash =
    named === null || named === partner.class
      ? null
      : `does it watch a ${partner.class}, as its changes say, or a ${named}, as its name says?`;
  return {
    ...watched,
    class: partner.class,
    why: `it changes with ${partner.signal.id}: ${2 * common.matched} of ${common.changes} changes of both come in pairs within 90 s`,
    open: clash,
    direction: common.same >= common.reversed ? "as seen" : "reversed",
  };
}

/** A signal in its group; `joined` says why it is there, null for the first of a group. */
interface Member {
  readonly one: Classed;
  readonly joined: string | null;
  /** A question about its group. */
  readonly open: string | null;
}

/** The signals of one subject: at least one. */
type Group = [Member, ...Member[]];

/** A group that a signal may join, and how likely: the largest likeness to a member, 0..1. */
interface GroupLikeness {
  readonly group: Group;
  readonly likeness: number;
}

/** Puts signals of one class into groups, a subject each. */
function groupsOf(subjectClass: SubjectClass, signals: readonly Classed[]): Group[] {
  const groups: Group[] = [];
  for (const one of signals) {
    const stem = subjectStem(one.signal.name);
    const byName = groups.find((group) => stem !== "" && subjectStem(group[0].one.signal.name) === stem) ?? null;
    // People may well come and go together.
    const byChanges = subjectClass === "person" ? null : likeliestGroup(one, groups);
    if (byChanges !== null) byChanges.group.push(joinedByChanges(one, byChanges, byName, subjectClass));
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
  const named = byName === group ? `, and both names have ${shown(subjectStem(one.signal.name))}` : "";
  const isClash = byName !== null && byName !== group;
  return {
    one,
    joined: `${Math.round(100 * share)} % of its changes and those of ${partner} come in pairs${named}`,
    open: isClash
      ? `which ${subjectClass} does it watch? By its changes that of ${partner}, by its name that of ${byName[0].one.signal.id}`
      : null,
  };
}

function joinedByName(one: Classed, [first]: Group, subjectClass: SubjectClass): Member {
  const partner = first.one.signal.id;
  // A name alone is no proof when the changes speak against it.
  const isDoubtful = subjectClass !== "person" && canBeCompared(one) && canBeCompared(first.one);
  return {
    one,
    joined: `its name and that of ${partner} have ${shown(subjectStem(one.signal.name))} in common`,
    open: isDoubtful
      ? `does it watch the same ${subjectClass} as ${partner}? The names say so, but their changes do not come together`
      : null,
  };
}

function placingOf({ one, joined, open }: Member, subject: string): Placing {
  return {
    signal: one.signal,
    subject,
    class: one.class,
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
  const [stem, ...others] = group.map(({ one }) => subjectStem(one.signal.name)).filter((text) => text !== "");
  const common = stem !== undefined && others.every((other) => other === stem) ? stem : null;
  const numbered = `${subjectClass}-${index + 1}`;
  if (subjectClass === "person" || common === null) return freeName(common ?? numbered, taken);
  if (/^\p{N}+$/u.test(common)) return freeName(`${subjectClass}-${common}`, taken);
  return freeName(/\p{N}/u.test(common) || common.length > 2 ? common : numbered, taken);
}
