import type { z } from "zod";
import type { ProblemCode, ProblemParts } from "../ground/problem.js";
import { nameList, quoted, suggestion, type Complaints } from "./complaints.js";
import { siteShape, type WrittenSite } from "./shape.js";
import type { Path, Written, YamlText } from "./yaml-text.js";

/** What could be read of a site file: entries of a wrong shape are left out, so that the rest can still be checked. */
export interface ShapedSite {
  readonly site: WrittenSite;
  /** For each of `site.rules`, its 0-based position in the file. */
  readonly rulePositions: readonly number[];
  /** Whether nothing was left out. */
  readonly whole: boolean;
}

type Issue = z.core.$ZodIssue;
type Mapping = Readonly<Record<string, Written>>;

/** Sections whose entries can be left out one by one. */
const sectionsOfEntries = new Set(["sources", "bays", "doors", "people", "signals", "named", "rules", "limits"]);

/** Complains about every value of a wrong shape. Null when too little is left to go on with. */
export function checkShape(yaml: YamlText, complaints: Complaints): ShapedSite | null {
  const first = siteShape.safeParse(yaml.value);
  if (first.success) return { site: first.data, rulePositions: (first.data.rules ?? []).map((_, position) => position), whole: true };
  for (const issue of first.error.issues) complainOf(issue, [], yaml, complaints);
  return withoutWrongEntries(yaml.value, first.error.issues);
}

function withoutWrongEntries(value: Written, issues: readonly Issue[]): ShapedSite | null {
  if (!isMapping(value)) return null;
  const wrong = new Set(issues.flatMap((issue) => wrongEntries(issue)));
  const left: Record<string, Written> = {};
  let rulePositions: number[] = [];
  for (const [section, content] of Object.entries(value)) {
    if (wrong.has(JSON.stringify([section]))) continue;
    const isWrong = (entry: string | number) => wrong.has(JSON.stringify([section, entry]));
    if (isList(content)) {
      rulePositions = content.map((_, position) => position).filter((position) => !isWrong(position));
      left[section] = rulePositions.map((position) => content[position] ?? null);
    } else if (isMapping(content)) left[section] = Object.fromEntries(Object.entries(content).filter(([entry]) => !isWrong(entry)));
    else left[section] = content;
  }
  // Stand-ins, only so that names can be looked up: a file that needs them has been complained about.
  const second = siteShape.safeParse({ site: "?", timezone: "UTC", ...left });
  return second.success ? { site: second.data, rulePositions, whole: false } : null;
}

/** The smallest parts to leave out, as JSON paths. */
function wrongEntries(issue: Issue): string[] {
  const path = issue.path as Path;
  if (issue.code === "unrecognized_keys" && path.length < 2) return issue.keys.map((key) => JSON.stringify([...path, key]));
  const depth = sectionsOfEntries.has(String(path[0])) ? 2 : 1;
  return [JSON.stringify(path.slice(0, depth))];
}

function complainOf(issue: Issue, prefix: Path, yaml: YamlText, complaints: Complaints): void {
  const path: Path = [...prefix, ...(issue.path as Path)];
  if (issue.code === "unrecognized_keys") {
    const known = issue.message.split(", ").filter((key) => key !== "");
    for (const key of issue.keys) {
      complaints.atKey([...path, key], {
        code: "site-shape",
        what: `${quoted(key)} is not a key of ${pathText(path)}`,
        expected: known.length === 0 ? "no keys here" : `one of ${nameList(known)}`,
        mend: suggestion(key, known),
      });
    }
    return;
  }
  if (issue.code === "invalid_union") {
    const branch = likelyBranch(issue.errors, valueAt(yaml.value, path));
    if (branch !== null) {
      for (const inner of branch) complainOf(inner, path, yaml, complaints);
      return;
    }
  }
  complainOfValue(issue, path, yaml, complaints);
}

function complainOfValue(issue: Issue, path: Path, yaml: YamlText, complaints: Complaints): void {
  const found = valueAt(yaml.value, path);
  const name = path.at(-1);
  const code = codeOf(path);
  if (found === undefined && name !== undefined) {
    complaints.atKey(path.slice(0, -1), {
      code,
      what: `${quoted(String(name))} is missing in ${pathText(path.slice(0, -1))}`,
      expected: issue.message,
    });
    return;
  }
  const options = issue.code === "invalid_value" ? issue.values.map(String) : [];
  const parts: ProblemParts = {
    code,
    what: path.length === 0 ? "This is not a site file" : `The value of ${pathText(path)} cannot be used`,
    expected: issue.message,
    found: foundText(found),
    mend: typeof found === "string" ? suggestion(found, options) : null,
  };
  // A mapping starts at its first key, which is fine; where it stands alone its name says more.
  if (typeof found === "string") complaints.atValue(path, parts);
  else complaints.atKey(path, parts);
}

/** Of several allowed forms, the one that fits the kind of value written (a text, a list, a mapping). */
function likelyBranch(branches: readonly (readonly Issue[])[], value: Written | undefined): readonly Issue[] | null {
  if (value === undefined || value === null) return null;
  return branches.find((issues) => issues.every((issue) => issue.path.length > 0 || issue.code !== "invalid_type")) ?? null;
}

function codeOf(path: Path): ProblemCode {
  return path.at(-1) === "unit" ? "site-unit" : "site-shape";
}

/** `signals › bay-1-overhead › settle`, `rules › item 2 › when`. */
export function pathText(path: Path): string {
  return path.length === 0 ? "the site file" : path.map((part) => (typeof part === "number" ? `item ${part + 1}` : part)).join(" › ");
}

/** Short text for any value that YAML can hold. */
export function foundText(value: unknown): string {
  if (value === undefined || value === null) return "nothing";
  if (typeof value === "string") return quoted(value);
  if (Array.isArray(value)) return value.length === 0 ? "an empty list" : `a list of ${value.length}`;
  if (typeof value !== "object") return JSON.stringify(value);
  return Object.keys(value).length === 0 ? "an empty mapping" : `a mapping with ${nameList(Object.keys(value))}`;
}

/** The value at a path; undefined without one. */
export function valueAt(value: Written, path: Path): Written | undefined {
  let here: Written | undefined = value;
  for (const part of path) {
    if (isList(here)) here = typeof part === "number" ? here[part] : undefined;
    else if (isMapping(here)) here = Object.hasOwn(here, part) ? here[String(part)] : undefined;
    else return undefined;
  }
  return here;
}

function isList(value: Written | undefined): value is readonly Written[] {
  return Array.isArray(value);
}

/** Whether the value is a mapping. */
export function isMapping(value: Written | undefined): value is Mapping {
  return typeof value === "object" && value !== null && !isList(value);
}
