import type { Expression } from "../../site/expression.js";
import type { Subject, SubjectClass } from "../../site/site.js";
import type { Interned } from "./intern.js";
import type { Learned, Windows } from "./occasions.js";

/** How the signals of one subject are heard: any of them, each, one in which the others agree, two of more, or the n-th alone. */
export type Form = "any" | "each" | "one and the others agree" | "two" | number;

/**
 * Every rule tried for an act that lets in. In each bay (or for each person, where the site has no bays): a vehicle
 * turned occupied, a door open recently, a person turned here, each heard in one of a few forms, or left out. The person
 * is one who comes with that vehicle, or anybody. What `needed` names is never left out.
 */
export function arrivalRules(learned: Learned, needed: ReadonlySet<SubjectClass>, interned: Interned): Expression[] {
  const bays = learned.subjects("bay");
  const found = new Set<Expression>();
  const options = (wanted: SubjectClass, subjects: readonly Subject[], forms: readonly Form[]): (Form | null)[] =>
    subjects.length === 0 ? [null] : [...(needed.has(wanted) ? [] : [null]), ...formsOf(learned, subjects, forms)];
  const [doors, people] = [learned.subjects("door"), learned.subjects("person")];
  for (const bay of options("bay", bays, ["any", "each", "one and the others agree", "two"])) {
    for (const door of options("door", doors, ["any", "each"])) {
      for (const person of options("person", people, ["any", "each", "two"])) {
        const used = usedOf({ bay, door, person });
        if (used.length === 0) continue;
        for (const windows of learned.windowsFor(used)) {
          for (const own of bay === null || person === null ? [false] : [true, false]) {
            const rule = ruleOf({ bay, door, person, own }, windows, learned, interned);
            if (rule !== null) found.add(rule);
          }
        }
      }
    }
  }
  return [...found];
}

/** The forms in which the signals of at least one of these subjects can be heard; none twice. */
export function formsOf(learned: Learned, subjects: readonly Subject[], forms: readonly Form[]): Form[] {
  const most = Math.max(0, ...subjects.map(({ id }) => learned.signals(id).length));
  if (most < 2) return ["any"];
  return [...forms.filter((form) => form !== "two" || most > 2), ...Array.from({ length: most }, (_, i) => i)];
}

function usedOf(heard: Readonly<Record<SubjectClass, Form | null>>): SubjectClass[] {
  return (["bay", "door", "person"] as const).filter((one) => heard[one] !== null);
}

type Heard = Readonly<Record<SubjectClass, Form | null>> & { readonly own: boolean };

function ruleOf({ bay, door, person, own }: Heard, windows: Windows, learned: Learned, interned: Interned): Expression | null {
  const turned = (form: Form) => (subject: Subject, withinMs: number): Expression | null => turnedOn(learned.signals(subject.id), form, withinMs, interned);
  const opened = (doors: readonly Subject[]): Expression | null =>
    door === null ? null : interned.joined("any", doors.map(({ id }) => heardIn(learned.signals(id), door, (ref) => interned.atom({ op: "is", ref, state: 1, heldMs: null, recentlyMs: windows.door }), interned)));
  const came = (people: readonly Subject[]): Expression | null => (person === null ? null : interned.joined("any", people.map((one) => turned(person)(one, windows.person))));
  const people = learned.subjects("person");
  if (bay === null) {
    const doors = opened(learned.subjects("door"));
    return person === null ? doors : interned.joined("all", [came(people), doors]);
  }
  const bays = learned.subjects("bay");
  if (!own) {
    const vehicles = interned.joined("any", bays.map((one) => turned(bay)(one, windows.bay)));
    return interned.joined("all", [vehicles, opened(learned.subjects("door")), came(people)]);
  }
  return interned.joined("any", bays.map((one) => interned.joined("all", [turned(bay)(one, windows.bay), opened(learned.doorsOf(one.id)), came(learned.ownersOf(one.id))])));
}

function turnedOn(signals: readonly string[], form: Form, withinMs: number, interned: Interned): Expression | null {
  const turned = (ref: string): Expression => interned.atom({ op: "turned", ref, to: 1, withinMs });
  if (form !== "one and the others agree") return heardIn(signals, form, turned, interned);
  const is = (ref: string): Expression => interned.atom({ op: "is", ref, state: 1, heldMs: null, recentlyMs: null });
  return interned.joined("any", signals.map((ref) => interned.joined("all", [turned(ref), ...signals.filter((other) => other !== ref).map(is)])));
}

/** The signals of one subject heard in a form; a subject with fewer signals than the form asks for is heard by what it has. */
export function heardIn(signals: readonly string[], form: Form, atom: (ref: string) => Expression, interned: Interned): Expression | null {
  if (typeof form === "number") return interned.joined("any", signals.slice(Math.min(form, signals.length - 1)).slice(0, 1).map(atom));
  if (form === "two" && signals.length > 2) return interned.atLeast(2, signals.map(atom));
  return interned.joined(form === "any" ? "any" : "all", signals.map(atom));
}
