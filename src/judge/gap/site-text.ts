import { durationText } from "../../ground/duration.js";
import type { Expression } from "../../site/expression.js";
import type { Site } from "../../site/site.js";
import { stateWords } from "../../site/state-words.js";
import { isAtom, type Atom } from "../rule/condition.js";

/** Words that YAML readers take for something else than text. */
const notText = /^(?:null|true|false|yes|no|on|off)$/i;

const plurals = { bay: "bays", door: "doors", person: "people" } as const;

/**
 * What makes a rule right, as one would write it after `right_when:` in a site file. The same atom about every subject
 * of a class becomes `some` or `every`.
 * @throws RangeError when it names a subject that the site does not have.
 */
export function rightWhenText(expression: Expression, site: Pick<Site, "subjects">): string {
  if (isAtom(expression)) return `{ subject: ${nameText(expression.ref)}, ${atomText(expression, site)} }`;
  switch (expression.op) {
    case "not":
      return `{ not: ${rightWhenText(expression.of, site)} }`;
    case "atLeast":
      return `{ at_least: { count: ${expression.count}, of: ${listText(expression.of, site)} } }`;
    default:
      return allOfOneClass(expression, site) ?? `{ ${expression.op}: ${listText(expression.of, site)} }`;
  }
}

function allOfOneClass({ op, of }: Extract<Expression, { op: "all" | "any" }>, site: Pick<Site, "subjects">): string | null {
  const atoms = of.filter(isAtom);
  const [first] = atoms;
  if (first === undefined || atoms.length !== of.length || of.length < 2) return null;
  const subjectClass = classOf(first.ref, site);
  const fellows = site.subjects.filter((one) => one.class === subjectClass).map(({ id }) => id);
  const text = atomText(first, site);
  const isWhole = atoms.length === fellows.length && atoms.every((atom, i) => atom.ref === fellows[i] && atomText(atom, site) === text);
  return isWhole ? `{ ${op === "any" ? "some" : "every"}: ${plurals[subjectClass]}, ${text} }` : null;
}

function listText(parts: readonly Expression[], site: Pick<Site, "subjects">): string {
  return `[ ${parts.map((part) => rightWhenText(part, site)).join(", ")} ]`;
}

function atomText(atom: Atom, site: Pick<Site, "subjects">): string {
  const words = stateWords[classOf(atom.ref, site)];
  if (atom.op === "turned") return `turned: ${atom.to === 1 ? words.on : words.off}, within: ${spanText(atom.withinMs)}`;
  const state = `is: ${atom.state === 1 ? words.on : words.off}`;
  if (atom.heldMs !== null) return `${state}, held: ${spanText(atom.heldMs)}`;
  return atom.recentlyMs === null ? state : `${state}, recently: ${spanText(atom.recentlyMs)}`;
}

function spanText(ms: number): string {
  return durationText(ms).replaceAll(" ", "");
}

function nameText(name: string): string {
  return /^[A-Za-z][\w-]*$/.test(name) && !notText.test(name) ? name : JSON.stringify(name);
}

function classOf(subject: string, { subjects }: Pick<Site, "subjects">): keyof typeof plurals {
  const found = subjects.find(({ id }) => id === subject);
  if (found === undefined) throw new RangeError(`The site has no subject "${subject}".`);
  return found.class;
}
