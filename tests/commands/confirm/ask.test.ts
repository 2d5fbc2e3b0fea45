import { describe, expect, it } from "vitest";
import { askQuestions, type Asker, type Choice, type Screen } from "../../../src/commands/confirm/ask.js";
import type { DiaryRow } from "../../../src/commands/confirm/diary-text.js";
import type { DiaryWriter } from "../../../src/commands/confirm/diary-writer.js";
import type { Question } from "../../../src/result/questions.js";
import { idaCame, nights, whose } from "./invented-questions.js";

/** A diary that is a list. */
function listWriter(): DiaryWriter & { readonly rows: DiaryRow[] } {
  const rows: DiaryRow[] = [];
  return {
    rows,
    add: (added) => Promise.resolve((rows.push(...added), { rows: added, changed: { before: null, after: Buffer.alloc(0) } })),
    takeBack: (written) => Promise.resolve(void rows.splice(rows.length - written.rows.length)),
  };
}

/** Somebody who does these things in this order; a number picks that answer, a list of days answers "except". */
function person(doings: readonly (number | Exclude<Choice["does"], "answer"> | "finish")[], except: readonly (readonly number[] | null)[] = []): Asker & { readonly screens: Screen[] } {
  const left = [...doings];
  const exceptions = [...except];
  const screens: Screen[] = [];
  const next = (): (typeof doings)[number] => left.shift()!;
  return {
    screens,
    ask(screen) {
      screens.push(screen);
      const doing = next();
      return Promise.resolve(typeof doing === "number" ? { does: "answer", answer: screen.question.answers[doing]! } : { does: doing as Exclude<Choice["does"], "answer"> });
    },
    exceptions: ({ days }) => Promise.resolve(exceptions.shift()?.map((place) => days[place]!) ?? null),
    end: () => Promise.resolve(next() === "undo" ? "undo" : "done"),
  };
}

const lanes = (question: Question): string => `lanes of ${question.id}`;
const states = (rows: readonly DiaryRow[]): string[] => rows.map(({ subject, state }) => `${subject}:${state}`);

describe("asking", () => {
  it("writes the rows of each answer, and one without a state for each thing that nobody remembers", async () => {
    const writer = listWriter();
    expect(await askQuestions([idaCame, whose], person([0, "don't know", "finish"]), writer, lanes)).toEqual({ answered: 2, unknown: 1, left: 0 });
    expect(states(writer.rows)).toEqual(["ida:away", "ida:here", "bay:"]);
  });

  it("writes nothing for a question that is skipped, and counts it as left", async () => {
    const writer = listWriter();
    expect(await askQuestions([idaCame, whose], person(["skip", 1, "finish"]), writer, lanes)).toEqual({ answered: 1, unknown: 0, left: 1 });
    expect(states(writer.rows)).toEqual(["bay:empty"]);
  });

  it("undoes the last answer and puts that question again, also when others were skipped since", async () => {
    const writer = listWriter();
    const asker = person([0, "skip", "undo", 1, "skip", "quit"]);
    await askQuestions([idaCame, nights, whose], asker, writer, lanes);
    expect(asker.screens.map(({ question }) => question.id)).toEqual(["ida-came", "nights", "whose", "ida-came", "nights", "whose"]);
    expect(states(writer.rows)).toEqual(["ida:away"]);
  });

  it("lets the very last answer be undone too", async () => {
    const writer = listWriter();
    expect(await askQuestions([whose], person([0, "undo", 1, "finish"]), writer, lanes)).toEqual({ answered: 1, unknown: 0, left: 0 });
    expect(states(writer.rows)).toEqual(["bay:empty"]);
  });

  it("shows what the sensors said when asked for it, never before, and only for that question", async () => {
    const asker = person(["sensors", 0, "quit"]);
    const shown: string[] = [];
    await askQuestions([idaCame, whose], asker, listWriter(), (question) => (shown.push(question.id), lanes(question)));
    expect(asker.screens.map(({ sensors }) => sensors)).toEqual([null, "lanes of ida-came", null]);
    expect(shown).toEqual(["ida-came"]);
  });

  it("notes of the days of a routine that the person excepts only that they were asked about", async () => {
    const writer = listWriter();
    await askQuestions([nights], person([0, "finish"], [[1]]), writer, lanes);
    expect(writer.rows.map(({ state, from }) => [state, new Date(from).toISOString().slice(0, 10)])).toEqual([["here", "2026-06-01"], ["here", "2026-06-03"], ["", "2026-06-02"]]);
  });

  it("notes the same of every day where all are excepted, or the answer states nothing, for which no day is asked", async () => {
    for (const asker of [person([0, "finish"], [[0, 1, 2]]), person([1, "finish"])]) {
      const writer = listWriter();
      await askQuestions([nights], asker, writer, lanes);
      expect(states(writer.rows)).toEqual(["ida:", "ida:", "ida:"]);
    }
  });

  it("goes back to the question from its days, with nothing written", async () => {
    const writer = listWriter();
    const asker = person([0, "quit"], [null]);
    await askQuestions([nights], asker, writer, lanes);
    expect(asker.screens).toHaveLength(2);
    expect(writer.rows).toEqual([]);
  });

  it("writes the rows of an answer to a question that comes again as they stand: the same once more, or taken back", async () => {
    const again: Question = { ...whose, again: true, answers: [whose.answers[0]!, { says: "No", rows: whose.about.map((time) => ({ ...time, state: "taken back" })) }] };
    for (const [answer, state] of [[0, "occupied"], [1, "taken back"]] as const) {
      const writer = listWriter();
      await askQuestions([again], person([answer, "finish"]), writer, lanes);
      expect(states(writer.rows)).toEqual([`bay:${state}`]);
    }
  });
});
