import type { Answer, Question } from "../../result/questions.js";
import type { DiaryRow } from "./diary-text.js";
import type { DiaryWriter, Written } from "./diary-writer.js";

/** What a person may do at a question. */
export type Choice =
  | { readonly does: "answer"; readonly answer: Answer }
  | { readonly does: "don't know" | "skip" | "sensors" | "undo" | "quit" };

/** A question as it is put. */
export interface Screen {
  readonly question: Question;
  /** 1-based. */
  readonly number: number;
  readonly of: number;
  /** Answers given so far in this session. */
  readonly answered: number;
  /** What the sensors said, once it was asked for. */
  readonly sensors: string | null;
}

/** Whoever asks the person. */
export interface Asker {
  readonly ask: (screen: Screen) => Promise<Choice>;
  /** The days of a routine on which it was not so; null: back to the question. */
  readonly exceptions: (question: Question) => Promise<Question["days"] | null>;
  /** After the last question: is it done, or shall the last answer be taken back? */
  readonly end: () => Promise<"done" | "undo">;
}

/** What came of asking. */
export interface Asked {
  /** Answers that stand in the diary, and how many of them are "I don't know". */
  readonly answered: number;
  readonly unknown: number;
  /** Questions of the list that have no answer yet. */
  readonly left: number;
}

interface Done {
  readonly place: number;
  readonly unknown: boolean;
  readonly written: Written;
}

/**
 * Puts the questions, one after the other, and writes each answer down before the next is asked. A skipped question writes nothing:
 * it comes again the next time. `sensors` gives what the sensors said around a question; it is called only when the person asks for it.
 */
export async function askQuestions(questions: readonly Question[], asker: Asker, writer: DiaryWriter, sensors: (question: Question) => string): Promise<Asked> {
  const done: Done[] = [];
  const takeBack = async (): Promise<number | null> => {
    const last = done.pop();
    if (last !== undefined) await writer.takeBack(last.written);
    return last?.place ?? null;
  };
  let place = 0;
  let shown: { readonly place: number; readonly text: string } | null = null;
  for (;;) {
    const question = questions[place];
    if (question === undefined) {
      if (done.length === 0 || (await asker.end()) === "done") break;
      place = (await takeBack()) ?? place;
      continue;
    }
    const choice = await asker.ask({ question, number: place + 1, of: questions.length, answered: done.length, sensors: shown?.place === place ? shown.text : null });
    if (choice.does === "quit") break;
    if (choice.does === "sensors") shown = { place, text: sensors(question) };
    else if (choice.does === "undo") place = (await takeBack()) ?? place;
    else if (choice.does === "skip") place += 1;
    else {
      const rows = choice.does === "answer" ? await rowsOf(question, choice.answer, asker) : withoutState(question.about);
      if (rows === null) continue;
      done.push({ place, unknown: choice.does === "don't know", written: await writer.add(rows) });
      place += 1;
    }
  }
  return { answered: done.length, unknown: done.filter(({ unknown }) => unknown).length, left: questions.length - done.length };
}

/**
 * The rows that an answer writes; null: the person went back to the question. Of a day that the person excepts they say only that
 * it was asked about: a row without a state.
 */
async function rowsOf(question: Question, answer: Answer, asker: Asker): Promise<readonly DiaryRow[] | null> {
  const { days, about } = question;
  if (!days.some((day) => answer.rows.some((row) => row.state !== "" && overlap(row, day)))) return answer.rows;
  const except = await asker.exceptions(question);
  if (except === null) return null;
  const subjects = [...new Set(about.map(({ subject }) => subject))];
  const excepted = except.flatMap(({ from, to }) => subjects.map((subject) => ({ subject, from, to })));
  return [...answer.rows.filter((row) => !except.some((day) => overlap(row, day))), ...withoutState(excepted)];
}

function withoutState(times: Question["about"]): DiaryRow[] {
  return times.map((one) => ({ ...one, state: "" }));
}

function overlap(a: { readonly from: number; readonly to: number }, b: { readonly from: number; readonly to: number }): boolean {
  return a.from < b.to && b.from < a.to;
}
