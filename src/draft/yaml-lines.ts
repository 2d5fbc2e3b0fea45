import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../ground/units.js";

import { FILL_IN } from "../site/fill-in.js";
import { plainQuestion, type DraftQuestion } from "./questions.js";

export { FILL_IN };

/** The comment that marks a place to fill in, to be searched for. */
const OPEN_MARK = "# FILL IN:";
/** The comment that marks a guess worth a look. */
const GUESS_MARK = "# check:";

/** Gathers the lines of a site file, and what is left open in it. */
export interface YamlLines {
  readonly add: (text: string) => void;
  readonly note: (indent: number, text: string) => void;
  /** A line with a place to fill in above it; a question is counted once however often it is marked. A text is one without choices. */
  readonly ask: (indent: number, question: DraftQuestion | string, line?: string) => void;
  readonly guess: (indent: number, text: string) => void;
  readonly open: () => DraftQuestion[];
  readonly text: () => string;
}

/** An empty file. */
export function makeYamlLines(): YamlLines {
  const lines: string[] = [];
  const open = new Map<string, DraftQuestion>();
  const comment = (indent: number, mark: string, text: string): void => void lines.push(`${" ".repeat(indent)}${mark} ${oneLine(text)}`);
  return {
    add: (text) => void lines.push(text),
    note: (indent, text) => comment(indent, "#", text),
    guess: (indent, text) => comment(indent, GUESS_MARK, text),
    ask(indent, question, line) {
      const weight = line?.includes(FILL_IN) === true ? "blocks" : "stands in";
      const asked = typeof question === "string" ? plainQuestion(question, weight) : question;
      open.set(asked.text, asked);
      comment(indent, OPEN_MARK, asked.text);
      if (line !== undefined) lines.push(line);
    },
    open: () => [...open.values()],
    text: () => `${lines.join("\n")}\n`,
  };
}

/** A text as a YAML scalar: plain where it cannot be misread, else in double quotes. */
export function scalar(text: string): string {
  if (/^(?:\.\.\/)*[A-Za-z][\w./*-]*$/.test(text) && !/^(?:y|n|yes|no|on|off|true|false|null)$/i.test(text)) return text;
  return JSON.stringify(text).replace(
    /[\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/** Texts as a YAML list on one line. */
export function list(texts: readonly string[]): string {
  return `[${texts.map(scalar).join(", ")}]`;
}

/** A duration as the site file writes it. */
export function durationScalar(ms: number): string {
  for (const [unit, length] of [
    ["h", HOUR_MS],
    ["min", MINUTE_MS],
    ["s", SECOND_MS],
  ] as const) {
    if (ms >= length && ms % length === 0) return `${ms / length}${unit}`;
  }
  return `${Math.max(1, Math.round(ms))}ms`;
}

/** Comments end at the line's end: a cell's text must not be able to end one. */
function oneLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\p{Co}\p{Cn}\p{Cs}\p{Zl}\p{Zp}]+/gu, " ").trim();
}
