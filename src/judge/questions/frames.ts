import { group } from "d3-array";
import { union, type Interval } from "../../ground/intervals.js";
import { firstWhere } from "../../ground/search.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { Site, SubjectClass } from "../../site/site.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { lookingAt, momentsWithoutDiary, statesAsked, tellingOf } from "./moments.js";

/** A time in which somebody would have to say what a subject did. Frames of one subject lie apart. */
export interface Frame extends Interval {
  readonly subject: string;
  readonly class: "person" | "bay";
  /** What the facts ask for in it. */
  readonly states: ReadonlySet<0 | 1>;
  /** The moments that it is made of. */
  readonly instants: readonly number[];
}

/**
 * The frames of a site: where the facts of its rules look at a person or a bay of which nobody outside the rule tells,
 * were there no diary. Times that overlap are one, so that no two answers can contradict one another. Doors are not
 * asked about: nobody remembers them.
 */
export function framesOf(site: Site, rules: readonly RuleOverHistory[], bare: ReferenceBook): Frame[] {
  const classes = new Map(site.subjects.map((one) => [one.id, one.class]));
  const windows = rules.flatMap((rule) => {
    const moments = momentsWithoutDiary(rule, bare);
    return expressionRefs(rule.spec.rightWhen).filter((subject) => isAskable(classes.get(subject))).flatMap((subject) => {
      const states = statesAsked(rule.spec.rightWhen, subject);
      const [windowOf, isTold] = [lookingAt(rule, subject), tellingOf(rule, bare, subject)];
      return moments.flatMap((moment) => {
        const window = windowOf(moment);
        return isTold(window) ? [] : [{ ...window, subject, at: moment.at, states }];
      });
    });
  });
  return [...group(windows, (one) => one.subject)].flatMap(([subject, own]) => {
    const subjectClass = classes.get(subject);
    if (!isAskable(subjectClass)) return [];
    const wholes = union(own);
    const partsOf = group(own, ({ to }) => firstWhere(wholes.length, (i) => (wholes[i]?.to ?? Infinity) >= to));
    return wholes.map((whole, i): Frame => {
      const parts = partsOf.get(i) ?? [];
      return { ...whole, subject, class: subjectClass, states: statesOf(parts), instants: parts.map((one) => one.at) };
    });
  });
}

/** Most frames are made of windows of one rule, which all ask for the same. */
function statesOf(parts: readonly Pick<Frame, "states">[]): Frame["states"] {
  const distinct = new Set(parts.map(({ states }) => states));
  const [first] = distinct;
  return distinct.size === 1 && first !== undefined ? first : new Set([...distinct].flatMap((one) => [...one]));
}

function isAskable(subjectClass: SubjectClass | undefined): subjectClass is Frame["class"] {
  return subjectClass === "person" || subjectClass === "bay";
}
