import type { SubjectClass } from "../site/site.js";
import { changesOf, together, type Changes } from "./changes.js";
import type { FoundSignal, Placing } from "./found.js";
import { classHint, freeName, subjectStem } from "./names.js";
import { shown } from "./shown.js";

/** Two signals with more than this share of their changes in common watch one thing (our own choice). */
const LEAST_TOGETHER = 0.5;

interface Classed {
  readonly signal: FoundSignal;
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
  const changes = new Map(signals.map((signal) => [signal, changesOf(signal)]));
  const known = signals.flatMap((signal) => classedByItself(signal) ?? []);
  const others = signals.filter((signal) => !known.some((one) => one.signal === signal));
  const classed = [...known, ...others.map((signal) => classedByOthers(signal, known, changes))];
  const inOrder = signals.map((signal) => classed.find((one) => one.signal === signal)!);
  return (["bay", "door", "person"] as const).flatMap((subjectClass) => groupOfClass(subjectClass, inOrder.filter((one) => one.class === subjectClass), changes, taken));
}

function classedByItself(signal: FoundSignal): Classed | null {
  const { reading, name } = signal;
  if (reading.form === "distance") return { signal, class: "bay", why: "numbers: a distance meter, which watches a bay", open: null, direction: "as seen" };
  if (reading.form === "position") return { signal, class: "person", why: "latitude and longitude: somebody's place", open: whoseTracks(signal), direction: "as seen" };
  const { words } = reading;
  if (words.class !== null) return { signal, class: words.class, why: `${shown(words.on[0] ?? "")} and ${shown(words.off[0] ?? "")} are said of a ${words.class}`, open: null, direction: "as seen" };
  const hint = classHint(name);
  return words.meaning === "plain" && hint === "bay" ? { signal, class: "bay", why: "by its name", open: `does ${shown(words.on[0] ?? "")} mean occupied?`, direction: null } : null;
}

/** Tracks rarely say who carried the device; a column or channel of places is named after somebody. */
function whoseTracks({ source }: FoundSignal): string | null {
  return source.tables[0]?.traits.hasTracks === true ? "whose place is it? If it is a vehicle's, name the person who drives it: the site file knows no places of vehicles" : null;
}

function classedByOthers(signal: FoundSignal, known: readonly Classed[], changes: ReadonlyMap<FoundSignal, Changes>): Classed {
  const compared = known.map((one) => ({ one, with: together(changes.get(signal)!, changes.get(one.signal)!) })).sort((a, b) => Math.max(b.with.same, b.with.reversed) - Math.max(a.with.same, a.with.reversed));
  const [best] = compared;
  if (best !== undefined && Math.max(best.with.same, best.with.reversed) >= LEAST_TOGETHER && best.one.direction !== null) {
    const direction = best.with.same >= best.with.reversed ? "as seen" : "reversed";
    const named = classHint(signal.name);
    const clash = named === null || named === best.one.class ? null : `does it watch a ${best.one.class}, as its changes say, or a ${named}, as its name says?`;
    return { signal, class: best.one.class, why: `it changes with ${best.one.signal.id}: ${2 * best.with.matched} of ${best.with.changes} changes of both come in pairs within 90 s`, open: clash, direction };
  }
  const words = signal.reading.form === "words" ? signal.reading.words : null;
  const hint = classHint(`${signal.name} ${signal.source.id}`);
  const question = `which of ${[...(words?.on ?? []), ...(words?.off ?? [])].map(shown).join(" and ")} is on, and what does it watch? Nothing in the readings tells`;
  return { signal, class: hint ?? "door", why: hint === null ? "not known what it watches: taken for a door" : "by its name", open: question, direction: null };
}

function groupOfClass(subjectClass: SubjectClass, members: readonly Classed[], changes: ReadonlyMap<FoundSignal, Changes>, taken: Set<string>): Placing[] {
  const groups: Classed[][] = [];
  const why = new Map<Classed, string>();
  const open = new Map<Classed, string>();
  for (const one of members) {
    const stem = subjectStem(one.signal.name);
    const byName = groups.find((group) => stem !== "" && subjectStem(group[0]!.signal.name) === stem);
    const best = subjectClass === "person" ? undefined : groups.map((group) => ({ group, with: Math.max(...group.map((other) => likeness(one, other, changes))) })).sort((a, b) => b.with - a.with)[0];
    const byChanges = best !== undefined && best.with >= LEAST_TOGETHER ? best : undefined;
    const chosen = byChanges?.group ?? byName;
    if (chosen === undefined) {
      groups.push([one]);
      continue;
    }
    const partner = chosen[0]!.signal.id;
    if (byChanges !== undefined) {
      why.set(one, `${Math.round(100 * byChanges.with)} % of its changes and those of ${partner} come in pairs${byName === chosen ? `, and both names have ${shown(stem)}` : ""}`);
      if (byName !== undefined && byName !== chosen) open.set(one, `which ${subjectClass} does it watch? By its changes that of ${partner}, by its name that of ${byName[0]!.signal.id}`);
    } else {
      why.set(one, `its name and that of ${partner} have ${shown(stem)} in common`);
      // A name alone is no proof when the changes speak against it.
      if (subjectClass !== "person" && canBeCompared(one, chosen[0]!, changes)) open.set(one, `does it watch the same ${subjectClass} as ${partner}? The names say so, but their changes do not come together`);
    }
    chosen.push(one);
  }
  return groups.flatMap((group, i) => {
    const subject = subjectName(subjectClass, group, i, taken);
    return group.map((one) => ({ signal: one.signal, subject, class: subjectClass, evidence: [one.why, why.get(one)].filter((part) => part !== undefined).join("; "), open: one.open ?? open.get(one) ?? null, direction: one.direction }));
  });
}

function likeness(a: Classed, b: Classed, changes: ReadonlyMap<FoundSignal, Changes>): number {
  if (a.direction === null || b.direction === null) return 0;
  const { same, reversed } = together(changes.get(a.signal)!, changes.get(b.signal)!);
  return a.direction === b.direction ? same : reversed;
}

function canBeCompared(a: Classed, b: Classed, changes: ReadonlyMap<FoundSignal, Changes>): boolean {
  const enough = (one: Classed): boolean => one.direction !== null && changes.get(one.signal)!.on.length >= 5;
  return enough(a) && enough(b);
}

function subjectName(subjectClass: SubjectClass, group: readonly Classed[], index: number, taken: Set<string>): string {
  const stems = group.map(({ signal }) => subjectStem(signal.name)).filter((stem) => stem !== "");
  const stem = stems.length > 0 && stems.every((one) => one === stems[0]) ? stems[0]! : null;
  if (subjectClass === "person") return freeName(stem ?? `person-${index + 1}`, taken);
  if (stem !== null && (/\p{N}/u.test(stem) || stem.length > 2)) return freeName(/^\p{N}+$/u.test(stem) ? `${subjectClass}-${stem}` : stem, taken);
  return freeName(`${subjectClass}-${index + 1}`, taken);
}
