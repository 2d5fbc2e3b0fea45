import type { ProblemParts } from "../ground/problem.js";
import { closestName } from "./closest-name.js";
import type { Path, Place, YamlText } from "./yaml-text.js";

/** Collects what is wrong with a site file, each with its place: a reader gets all complaints at once. */
export interface Complaints {
  readonly problems: ProblemParts[];
  /** Something is wrong with the value at this path. */
  readonly atValue: (path: Path, parts: ProblemParts) => void;
  /** Something is wrong with the key at this path, or with what it holds as a whole. */
  readonly atKey: (path: Path, parts: ProblemParts) => void;
}

/** An empty collection for one file. */
export function makeComplaints(yaml: YamlText, file: string): Complaints {
  const problems: ProblemParts[] = [...yaml.problems];
  const add = (place: Place, parts: ProblemParts) => {
    problems.push({ file, ...place, ...parts });
  };
  return {
    problems,
    atValue: (path, parts) => add(yaml.placeOf(path), parts),
    atKey: (path, parts) => add(yaml.placeOfKey(path), parts),
  };
}

/** In order of line and column, each said once. */
export function sortedProblems(problems: readonly ProblemParts[]): ProblemParts[] {
  const sorted = [...problems].sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0));
  const said = new Set<string>();
  return sorted.filter((one) => {
    const key = JSON.stringify([one.line, one.column, one.what, one.found]);
    return said.has(key) ? false : Boolean(said.add(key));
  });
}

/** Texts longer than this are cut in messages. */
const LONGEST_SHOWN = 80;
/** Longer lists of names are cut in messages. */
const MOST_NAMES_SHOWN = 24;

/** A name in quotes, cut when very long. */
export function quoted(name: string): string {
  return JSON.stringify(name.length > LONGEST_SHOWN ? `${name.slice(0, LONGEST_SHOWN)}…` : name);
}

/** `one of x, y, z`, beginning with `start`; null without names. */
export function expectedNames(start: string, names: Iterable<string>): string | null {
  const all = [...names];
  return all.length === 0 ? null : `${start} ${nameList(all)}`;
}

/** `x, y, z`, cut when there are very many. */
export function nameList(names: Iterable<string>): string {
  const all = [...names];
  const shown = all.slice(0, MOST_NAMES_SHOWN).join(", ");
  return all.length > MOST_NAMES_SHOWN ? `${shown} and ${all.length - MOST_NAMES_SHOWN} more` : shown;
}

/** How to mend a name that is not known: the close one, or else `otherwise`. */
export function suggestion(written: string, known: Iterable<string>, otherwise: string | null = null): string | null {
  const close = closestName(written, known);
  return close === null ? otherwise : `did you mean ${quoted(close)}?`;
}
