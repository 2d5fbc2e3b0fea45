import { difference, type Interval } from "../../ground/intervals.js";
import { HOUR_MS, MINUTE_MS } from "../../ground/units.js";
import { stateWords } from "../../site/state-words.js";
import type { Answer, Question } from "../../result/questions.js";
import type { Frame } from "./frames.js";
import type { LocalWords } from "./local-words.js";
import { candidatesIn, movementsAround, type Candidate, type Movement } from "./movements.js";

/** A question before it is known what it bears on. */
export interface Draft extends Omit<Question, "rules" | "moments" | "text" | "answers"> {
  /** Its words and what each answer writes. Only made for the few questions that somebody may come to read. */
  readonly wording: () => Pick<Question, "text" | "answers">;
  /** The subject's own sensors saw a change in its time. */
  readonly moved: boolean;
}

/** What questions are made from, besides frames. */
export interface Asking {
  readonly words: LocalWords;
  /** Everything that moved, in time order. */
  readonly movements: readonly Movement[];
  readonly period: Interval;
  /** The time that the diary tells of, by subject. */
  readonly written: ReadonlyMap<string, readonly Interval[]>;
}

/** Nobody chooses among more. Our own choice. */
const MOST_CANDIDATES = 4;
/** Sensors may be shown for this long around what is asked. Our own choice. */
const SHOWN_MS = 10 * MINUTE_MS;

/** What may have happened in a frame: the turns asked about, and those the other way by the subject's own sensors. */
interface Happenings {
  /** Arrivals (1) or departures (0). */
  readonly direction: 0 | 1;
  readonly turns: readonly Candidate[];
  readonly back: readonly Candidate[];
}

/**
 * The question about a frame: whether and when the person came or went, or the vehicle; without any movement in it, what
 * was so throughout. Null where so much moved that nobody could choose.
 */
export function eventQuestion(frame: Frame, asking: Asking): Draft | null {
  const movements = movementsAround(asking.movements, frame);
  const { turns, back } = happeningsIn(frame, movements);
  if (turns.length + back.length > MOST_CANDIDATES) return null;
  return {
    id: `${frame.subject} ${asking.words.stamp(frame.from)}`,
    sort: frame.class === "person" ? "event" : "vehicle",
    wording: () => {
      // Found anew rather than kept: a large site has tens of thousands of frames, and few of them are worded.
      const happenings = happeningsIn(frame, movementsAround(asking.movements, frame));
      const { text, answers } = frame.class === "person" ? personWording(frame, happenings, asking.words) : vehicleWording(frame, happenings, asking);
      const row = rowsFrom(frame, happenings, asking.written.get(frame.subject) ?? []);
      return { text, answers: answers.map(({ says, means }): Answer => ({ says, rows: row(means) })) };
    },
    days: [],
    about: [{ subject: frame.subject, from: frame.from, to: frame.to }],
    around: { from: Math.max(asking.period.from, frame.from - SHOWN_MS), to: Math.min(asking.period.to, frame.to + SHOWN_MS) },
    again: false,
    moved: movements.some(({ subject, at }) => subject === frame.subject && at > frame.from && at < frame.to),
  };
}

function happeningsIn(frame: Frame, movements: readonly Movement[]): Happenings {
  const own = movements.filter((one) => one.subject === frame.subject);
  const among = (direction: 0 | 1): Candidate[] => candidatesIn(frame.class === "person" ? movements : own, frame, direction);
  const ownAmong = (direction: 0 | 1): Candidate[] => candidatesIn(own, frame, direction);
  const [first] = frame.states;
  const asked = frame.states.size === 1 && first !== undefined ? first : ownAmong(1).length === 0 && ownAmong(0).length > 0 ? 0 : 1;
  const other = asked === 1 ? 0 : 1;
  const [turns, back] = [among(asked), ownAmong(other)];
  if (turns.length === 0) return { direction: other, turns: back, back: [] };
  if (turns.length + back.length <= MOST_CANDIDATES) return { direction: asked, turns, back };
  // Of many, those at which a door alone moved are the least likely.
  return { direction: asked, turns: turns.filter((one) => one.movements.some((movement) => movement.class !== "door")), back };
}

/** What an answer means: a turn at an instant, or one state throughout. */
type Meaning = { readonly turn: Candidate; readonly to: 0 | 1 } | { readonly throughout: 0 | 1 };

interface Choice {
  readonly says: string;
  readonly means: Meaning;
}

interface Wording {
  readonly text: string;
  readonly answers: readonly Choice[];
}

/**
 * The rows that a meaning writes: never beyond the frame, never over a turn the other way that the subject's own sensors
 * saw, and nothing where the diary speaks already.
 */
function rowsFrom(frame: Frame, { turns, back }: Happenings, written: readonly Interval[]): (means: Meaning) => Answer["rows"] {
  const word = stateWords[frame.class];
  const rows = (state: 0 | 1, from: number, to: number): Answer["rows"] =>
    difference([{ from, to }], written).map((part) => ({ subject: frame.subject, state: state === 1 ? word.on : word.off, ...part }));
  return (means) => {
    if ("throughout" in means) return rows(means.throughout, frame.from, frame.to);
    const { turn: { at }, to } = means;
    const others = (turns.some((one) => one.at === at) ? back : turns.filter(({ movements }) => movements.some((one) => one.subject === frame.subject))).map((one) => one.at);
    const begin = Math.max(frame.from, ...others.filter((other) => other < at));
    const end = Math.min(frame.to, ...others.filter((other) => other > at));
    return [...rows(to === 1 ? 0 : 1, begin, at), ...rows(to, at, end)];
  };
}

function personWording(frame: Frame, { direction, turns, back }: Happenings, words: LocalWords): Wording {
  const { subject, from, to } = frame;
  const [first] = turns;
  const span = `${words.time(from)} to ${words.time(to)}`;
  const [home, out]: [Choice, Choice] = [
    { says: `No, ${subject} was at home the whole time, ${span}`, means: { throughout: 1 } },
    { says: `No, ${subject} was out the whole time, ${span}`, means: { throughout: 0 } },
  ];
  if (first === undefined) {
    return {
      text: to - from < HOUR_MS ? `Was ${subject} at home about ${words.time((from + to) / 2)} on ${words.day(from)}?` : `Was ${subject} at home on ${words.day(from)}, ${span}?`,
      answers: [{ ...home, says: `Yes, the whole time, ${span}` }, out],
    };
  }
  const [did, turned] = direction === 1 ? ["come home", "left home"] : ["leave home", "came home"];
  const back_ = back.map((turn): Choice => ({ says: `No, but ${subject} ${turned} about ${words.time(turn.at)}`, means: { turn, to: direction === 1 ? 0 : 1 } }));
  const rest = [...back_, home, out];
  if (turns.length === 1) {
    const yes: Choice = { says: "Yes", means: { turn: first, to: direction } };
    return { text: `Did ${subject} ${did} about ${words.time(first.at)} on ${words.day(first.at)}?`, answers: [yes, ...rest] };
  }
  const when = turns.map((turn): Choice => ({ says: `Yes, about ${words.time(turn.at)}`, means: { turn, to: direction } }));
  return { text: `Did ${subject} ${did} between ${words.time(from)} and ${words.time(to)} on ${words.day(from)}, and when?`, answers: [...when, ...rest] };
}

function vehicleWording(frame: Frame, { direction, turns, back }: Happenings, asking: Asking): Wording {
  const { words } = asking;
  const { subject, from, to } = frame;
  const [first] = turns;
  const whose = (says: string, means: Meaning): Choice[] => [{ says: `${says}, ours`, means }, { says: `${says}, somebody else's`, means }];
  if (first === undefined) {
    const stood = stayAround(frame, asking);
    const text = `Was a vehicle standing in ${subject} on ${words.day(stood.from)} from ${words.time(stood.from)} to ${words.timeFrom(stood.to, stood.from)}?`;
    return { text, answers: [...whose("Yes", { throughout: 1 }), { says: "No, it was empty", means: { throughout: 0 } }] };
  }
  const span = `${words.time(from)} to ${words.time(to)}`;
  const [drove, other] = direction === 1 ? ["drive into", "one drove out"] : ["drive out of", "one drove in"];
  const rest: Choice[] = [
    ...back.map((turn): Choice => ({ says: `No, but ${other} about ${words.time(turn.at)}`, means: { turn, to: direction === 1 ? 0 : 1 } })),
    { says: `No, one stood there the whole time, ${span}`, means: { throughout: 1 } },
    { says: `No, it was empty the whole time, ${span}`, means: { throughout: 0 } },
  ];
  if (turns.length === 1) {
    return { text: `Did a vehicle ${drove} ${subject} about ${words.time(first.at)} on ${words.day(first.at)}?`, answers: [...whose("Yes", { turn: first, to: direction }), ...rest] };
  }
  const when = turns.map((turn): Choice => ({ says: `Yes, about ${words.time(turn.at)}`, means: { turn, to: direction } }));
  return { text: `Did a vehicle ${drove} ${subject} between ${words.time(from)} and ${words.time(to)} on ${words.day(from)}, and when?`, answers: [...when, ...rest] };
}

/** The longest stay that is told by its beginning and its end. Our own choice: a night. */
const LONGEST_STAY_MS = 14 * HOUR_MS;

/** From the bay's last movement before the frame to its next one after it: people remember a stay. The frame itself where that is too long. */
function stayAround({ subject, from, to }: Frame, { movements, period }: Asking): Interval {
  const own = movements.filter((one) => one.subject === subject);
  const begin = own.findLast((one) => one.at <= from)?.at ?? period.from;
  const end = own.find((one) => one.at >= to)?.at ?? period.to;
  return end - begin <= LONGEST_STAY_MS ? { from: begin, to: end } : { from, to };
}
