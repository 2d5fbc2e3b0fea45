import type { Site, SubjectClass } from "../../site/site.js";

const nouns = { bay: "vehicles", door: "doors", person: "people" } as const;

/** Evidence that the site lacks and without which no rule can be better, in a sentence; null where nothing obvious is lacking. */
export function missingEvidence({ signals, subjects }: Site, detected: readonly (readonly [string, string])[]): string | null {
  const [first] = signals;
  const common = first?.shares.find((cause) => signals.every(({ shares }) => shares.includes(cause)));
  if (common !== undefined) return `${nothing} a contact on the inner door, with a power supply of its own, would help: all sensors depend on ${common}.`;
  const classOf = new Map(subjects.map(({ id, class: subjectClass }) => [id, subjectClass]));
  const classes = new Set(signals.map(({ subject }) => classOf.get(subject)));
  const [only] = classes;
  if (classes.size === 1 && only !== undefined) {
    const more: Readonly<Record<SubjectClass, string>> = {
      person: "a contact on the door, with a power supply of its own, would say that somebody is there",
      bay: "a phone or a tag would say who came",
      door: "a phone or a tag would say who came",
    };
    return `${nothing} ${more[only]}: all the sensors watch ${nouns[only]}.`;
  }
  const alone = subjects.filter(({ id, class: subjectClass }) => subjectClass === "person" && independentOf(signals.filter((one) => one.subject === id), detected) < 2);
  const [one] = alone;
  if (one === undefined) return null;
  const own = signals.filter(({ subject }) => subject === one.id).map(({ id }) => id);
  if (own.length === 0) return `${nothing} a tag or a phone of ${one.id} would help: no sensor tells whether ${one.id} is here.`;
  return `${nothing} a tag or a contact on the inner door, with a power supply of its own, would help: nothing besides ${own.join(" and ")} tells whether ${one.id} is here.`;
}

/** How every such sentence begins. */
export const nothing = "Nothing better was found with these sensors;";

/** How many of the signals have no cause in common with an earlier one. */
function independentOf(signals: Site["signals"], detected: readonly (readonly [string, string])[]): number {
  return signals.filter(({ id, shares }, i) => signals.slice(0, i).every((other) => !other.shares.some((cause) => shares.includes(cause)) && !detected.some((pair) => pair.includes(id) && pair.includes(other.id)))).length;
}
