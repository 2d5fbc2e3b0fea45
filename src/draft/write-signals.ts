import { parseLength } from "../site/length.js";
import { findEmptyOnly } from "./bands.js";
import { stateWords } from "../site/state-words.js";
import { cellAt } from "./cell.js";
import type { FoundSignal, HereFound, Placing } from "./found.js";
import { choicesOf, type Answers, type DraftQuestion } from "./questions.js";
import { findSettle } from "./settle.js";
import { counted, shown } from "./shown.js";
import type { CauseFound } from "./shared-causes.js";
import { namedPhone, sourceSort } from "./signals.js";
import { findUnit } from "./unit.js";
import { durationScalar, FILL_IN, list, scalar, type YamlLines } from "./yaml-lines.js";

/** More instants of one cause are not listed. */
const MOST_LISTED = 3;
/** More odd cells are not listed. */
const MOST_CELLS_LISTED = 4;

/** Keys of the words of a signal that notices only movement. */
const stirKeys = { on: "stirs", off: "still" } as const;

/** Writes `bays:`, `doors:`, `people:` and `signals:`. */
export function writeSignals(lines: YamlLines, placings: readonly Placing[], causes: readonly CauseFound[], answers: Answers): void {
  lines.add("# What the sensors watch. Rename as you like, here and under `on` below.");
  for (const [key, subjectClass] of [
    ["bays", "bay"],
    ["doors", "door"],
    ["people", "person"],
  ] as const) {
    const subjects = [...new Set(placings.filter((placing) => placing.class === subjectClass).map(({ subject }) => subject))];
    if (subjects.length === 0) continue;
    lines.add(`${key}:`);
    for (const subject of subjects) lines.add(`  ${scalar(subject)}: {}`);
  }
  lines.add("");
  writeCauses(lines, causes);
  lines.add("signals:");
  for (const placing of placings) {
    writeSignal(
      lines,
      placing,
      causes.filter(({ signals }) => signals.includes(placing.signal)).map(({ name }) => name),
      answers,
    );
  }
  lines.add("");
}

function writeCauses(lines: YamlLines, causes: readonly CauseFound[]): void {
  lines.add("# What each sensor says about one of them. `shares` names the board, supply, hub or network that sensors have in common:");
  lines.add("# exports show only what happened to fail together. Sensors on one board are not independent: complete the list.");
  for (const cause of causes) lines.guess(0, `${cause.name}: ${causeText(cause)}`);
}

/** What speaks for a cause, and what to do where it is none. */
function causeText({ signals, instants, text }: CauseFound): string {
  const ids = signals.map(({ id }) => id);
  if (text !== undefined) {
    const doubt = "one sensor under two names, or two on one board. If they are truly independent, take it out and say so by `independent`";
    return `${ids.join(" and ")} ${text}: ${doubt}`;
  }
  const times = instants.length === 1 ? "once" : `${instants.length} times`;
  const first = instants.slice(0, MOST_LISTED).map((instant) => new Date(instant).toISOString());
  const listed = `${first.join(", ")}${instants.length > MOST_LISTED ? ", …" : ""}`;
  return `${ids.join(", ")} started again or were lost within 20 s of one another ${times} (${listed})`;
}

function writeSignal(lines: YamlLines, placing: Placing, shares: readonly string[], answers: Answers): void {
  const { signal, subject, evidence } = placing;
  const { id, source, reading } = signal;
  lines.add(`  ${scalar(id)}:`);
  lines.guess(4, `watches the ${placing.class} ${subject}: ${evidence}`);
  if (placing.open !== null) lines.ask(4, placing.open);
  lines.add(`    on: ${scalar(subject)}`);
  lines.add(`    source: ${scalar(source.id)}`);
  if (source.layout.form === "long") lines.add(`    channel: ${signal.otherNames.length === 0 ? scalar(signal.name) : list([signal.name, ...signal.otherNames])}`);
  if (reading.form === "distance") writeDistance(lines, signal, answers);
  else if (reading.form === "position") {
    lines.add("    kind: position");
    writeHere(lines, id, reading.here, answers);
  } else writeWords(lines, placing);
  if (signal.expect === null) lines.note(4, "no `expect`: it seems to report only changes, so its silence says nothing");
  else {
    lines.note(4, `gaps of about ${durationScalar(signal.expect.ms)} make up ${Math.round(100 * signal.expect.share)} % of its time`);
    lines.add(`    expect: ${durationScalar(signal.expect.ms)}`);
  }
  if (shares.length > 0) lines.add(`    shares: ${list(shares)}`);
}

/** Radius and slack: from how much places waver at the proposed home, if there is one. */
function writeHere(lines: YamlLines, id: string, here: HereFound | null, answers: Answers): void {
  if (here !== null && here.scatterMetres !== null) {
    lines.note(4, `95 % of its rest at home lies within ${here.scatterMetres} m of that place`);
  }
  const proposed = `${here?.radiusMetres ?? 150}m`;
  const said = answers.get(`radius:${id}`);
  if (said === undefined) lines.ask(4, radiusQuestion(id, proposed), `    radius: ${proposed}`);
  else lines.add(`    radius: ${scalar(said)}`);
  if (here === null) return;
  lines.note(4, "once here, it is away only past the radius and this: so a wavering position does not look like coming and going");
  lines.add(`    slack: ${here.slackMetres}m`);
}

function radiusQuestion(id: string, proposed: string): DraftQuestion {
  return {
    id: `radius:${id}`,
    text: `signal ${id}: how near home counts as here? No export tells`,
    choices: choicesOf([proposed]),
    typed: { expected: "a length such as 150m", fits: (text) => (parseLength(text)?.unit ?? null) !== null },
    weight: "stands in",
  };
}

function writeDistance(lines: YamlLines, signal: FoundSignal, answers: Answers): void {
  const { id, name, reading, source } = signal;
  if (reading.form !== "distance") return;
  const { band, numbers, odd } = reading;
  const valueColumn = source.layout.form === "long" && source.layout.value !== null ? [cellAt(source.header, source.layout.value)] : [];
  const { unit, evidence, open, choices } = findUnit(
    [name, ...valueColumn],
    band?.empty.middle ?? largest(numbers),
    band === null ? "The largest reading is" : undefined,
  );
  lines.add("    kind: distance");
  const unitSaid = answers.get(`unit:${source.id}`);
  if (open === null) lines.guess(4, evidence);
  else if (unitSaid === undefined) {
    lines.ask(4, { id: `unit:${source.id}`, text: `source ${source.id}: ${open}`, choices: choicesOf(choices), typed: null, weight: "stands in" });
  }
  lines.add(`    unit: ${open === null ? unit : (unitSaid ?? unit)}`);
  if (odd.size > 0) {
    lines.note(4, `${counted(sum(odd.values()))} cells are no numbers (${examples(odd)}): they will be set aside and counted`);
  }
  const none = numbers.filter((value) => value <= 0).length;
  if (none > 0) {
    const until = "If they mean that no echo came, the bay is not known to be empty then";
    lines.guess(4, `${counted(none)} readings are zero or below: they are no distances and will be set aside. ${until}`);
  }
  const emptyOnly = band === null ? findEmptyOnly(numbers) : null;
  if (emptyOnly !== null) {
    lines.guess(
      4,
      `${counted(emptyOnly.count)} of ${counted(numbers.length)} readings lie about ${emptyOnly.middle}, ${counted(emptyOnly.nearer)} are nearer for moments: it has seen the empty bay only. ` +
        "Occupied is not seen yet: write [near, far] once a vehicle has stood there",
    );
    lines.add("    present: unseen");
    lines.add(`    empty: [${emptyOnly.near}, ${emptyOnly.far}]`);
    return;
  }
  if (band === null) {
    lines.ask(
      4,
      `signal ${id}: between which two distances does a vehicle stand? Its ${counted(numbers.length)} readings do not fall into two heaps`,
      `    present: [${FILL_IN}, ${FILL_IN}]`,
    );
    return;
  }
  const { occupied, empty } = band;
  const heaps = `${counted(occupied.count)} readings lie about ${occupied.middle} and ${counted(empty.count)} about ${empty.middle}`;
  lines.note(4, `${heaps}: a vehicle stands in the way, so the nearer heap is taken for "occupied"`);
  if (band.doubt !== null) lines.ask(4, `signal ${id}: ${band.doubt}: another vehicle, or something else?`);
  lines.add(`    present: [${band.near}, ${band.far}]`);
  lines.note(4, "a reading neither here nor there is unknown: another vehicle, or one on its way");
  lines.add(`    empty: [${band.empty.near}, ${band.empty.far}]`);
  lines.add(`    slack: ${band.slack}`);
  if (band.maximum !== null) {
    lines.note(4, `nothing is farther than ${band.maximum}, and many readings are exactly that: no echo`);
    lines.add(`    maximum: ${band.maximum}`);
  }
  const settle = findSettle(signal);
  lines.note(4, settle.because);
  lines.add(`    settle: ${settle.text}`);
}

function writeWords(lines: YamlLines, placing: Placing): void {
  const { signal, direction } = placing;
  if (signal.reading.form !== "words") return;
  const { on, off, others } = signal.reading.words;
  const { on: onKey, off: offKey } = placing.stirs === true ? stirKeys : stateWords[placing.class];
  lines.add(`    kind: ${kindOf(placing)}`);
  if (direction === null) {
    lines.add(`    ${onKey}: ${FILL_IN}`);
    lines.add(`    ${offKey}: ${FILL_IN}`);
  } else {
    const [onWords, offWords] = direction === "reversed" ? [off, on] : [on, off];
    lines.add(`    ${onKey}: ${list(onWords)}`);
    // A word for still that never came would make the first stir last for ever.
    if (placing.stirs !== true || signal.states.includes(0)) lines.add(`    ${offKey}: ${list(offWords)}`);
    else lines.note(4, "no word for still was seen: each time counts for a minute; write `lasts` for longer");
  }
  if (others.size > 0) {
    lines.note(4, `${counted(sum(others.values()))} cells hold another word (${examples(others)}): they will be set aside and counted`);
  }
}

/** The first of some cells, to show what they hold. */
function examples(cells: ReadonlyMap<string, number>): string {
  return [...cells.keys()].slice(0, MOST_CELLS_LISTED).map(shown).join(", ");
}

/** Whether its own name or that of its files is that of a phone. */
function isPhone(signal: FoundSignal): boolean {
  return sourceSort(signal.source) === "phone" || namedPhone(signal.name);
}

/** The kind of a signal read by words. */
export function kindOf({ signal, class: subjectClass, stirs }: Placing): string {
  if (stirs === true) return "stir";
  if (signal.reading.form !== "words") return signal.reading.form;
  return subjectClass === "door" ? "contact" : subjectClass === "person" && isPhone(signal) ? "phone" : "flag";
}

function sum(counts: Iterable<number>): number {
  return [...counts].reduce((total, count) => total + count, 0);
}

function largest(numbers: readonly number[]): number {
  return numbers.reduce((most, number) => Math.max(most, number), 0);
}
