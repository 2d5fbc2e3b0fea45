import { max, range, sum } from "d3-array";
import type { Answer, Question } from "../../../src/result/questions.js";
import { oneOf, type Chance } from "../verdict/random.js";
import { MINUTE, type Span, type World } from "../verdict/world.js";

/** A row of a diary file. */
export interface Row extends Span {
  readonly subject: string;
  /** Empty: asked, and not known. */
  readonly state: string;
}

/** How well somebody remembers: the share of answers that are wrong, and of those that are "don't know". */
export interface Memory {
  readonly mistakes: number;
  readonly unknown: number;
}

const ON_WORDS = ["here", "occupied", "open"];
/** An answer fits if it is true for this share of its time: nobody means minutes. */
const FITS = 0.9;
/** A day on which a habit was broken for longer is an exception. */
const EXCEPTION_MS = 5 * MINUTE;

/** What somebody who was there writes down when asked. */
export function answerOf(question: Question, world: World, chance: Chance, memory: Memory): Row[] {
  const unknown = question.about.map((time) => ({ ...time, state: "" }));
  if (chance() < memory.unknown) return unknown;
  const right = rightAnswer(question, world);
  if (right === null) return unknown;
  if (chance() >= memory.mistakes) return withExceptions(right, question, world);
  const others = question.answers.filter((one) => one !== right);
  return others.length === 0 ? unknown : [...oneOf(chance, others).rows];
}

/** The answer that is true; null where none fits. */
function rightAnswer(question: Question, world: World): Answer | null {
  const [first, second] = question.answers;
  if (question.sort === "routine" && first !== undefined && second !== undefined) {
    return withExceptions(first, question, world).filter(({ state }) => state !== "").length * 2 >= first.rows.length ? first : second;
  }
  const shares = question.answers.map((one) => trueShare(one.rows, world));
  const best = max(shares) ?? 0;
  // Whoever was asked again says no where the diary is not true.
  if (question.again && best < FITS) return question.answers.at(-1) ?? null;
  return best < FITS ? null : (question.answers[shares.indexOf(best)] ?? null);
}

/** The rows of an answer; of a day on which the habit was broken one without a state, as `keyworthy confirm` writes. */
function withExceptions({ rows }: Answer, { days, sort, about }: Question, world: World): Row[] {
  const [subject] = about.map((one) => one.subject);
  if (sort !== "routine" || subject === undefined) return [...rows];
  const broken = days.filter((day) => rows.some((row) => row.from < day.to && day.from < row.to && falseMs(row, world) > EXCEPTION_MS));
  return [...rows.filter((row) => !broken.some((day) => row.from < day.to && day.from < row.to)), ...broken.map(({ from, to }) => ({ subject, state: "", from, to }))];
}

function trueShare(rows: readonly Row[], world: World): number {
  const all = sum(rows, ({ from, to }) => to - from);
  return all === 0 || rows.some(({ state }) => state === "" || state === "taken back") ? 0 : 1 - sum(rows, (row) => falseMs(row, world)) / all;
}

/** For how long a row is not true. */
function falseMs({ subject, state, from, to }: Row, world: World): number {
  const on = world.subjects.find(({ id }) => id === subject)?.on ?? [];
  const onMs = sum(on, (one) => Math.max(0, Math.min(to, one.to) - Math.max(from, one.from)));
  return ON_WORDS.includes(state) ? to - from - onMs : onMs;
}

/** The same rows as a person would fill in the table that was asked before: the state over each stretch, by the truth. */
export function filledIn(stretches: readonly Omit<Row, "state">[], world: World): Row[] {
  return stretches.flatMap((stretch) => {
    const subject = world.subjects.find(({ id }) => id === stretch.subject);
    const [on, off] = subject?.class === "bay" ? ["occupied", "empty"] : ["here", "away"];
    const edges = [stretch.from, ...(subject?.on ?? []).flatMap(({ from, to }) => [from, to]).filter((at) => at > stretch.from && at < stretch.to), stretch.to];
    return range(edges.length - 1).map((i): Row => {
      const [from, to] = [edges[i] ?? 0, edges[i + 1] ?? 0];
      const isOn = (subject?.on ?? []).some((one) => one.from <= from && from < one.to);
      return { subject: stretch.subject, state: isOn ? on : off, from, to };
    });
  });
}
