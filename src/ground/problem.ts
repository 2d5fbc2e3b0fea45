import { steering } from "./steering.js";

/** A stable code for scripts. The text of a problem is for people and may change. */
export type ProblemCode =
  | "file-missing"
  | "file-empty"
  | "file-binary"
  | "file-cut-off"
  | "header-missing"
  | "column-missing"
  | "column-repeated"
  | "yaml-syntax"
  | "site-shape"
  | "site-reference"
  | "site-unit"
  | "site-band"
  | "time-zone-unknown"
  | "rule-never-fires"
  | "diary-row"
  | "scenario-shape"
  | "period-unreadable"
  | "period-empty"
  | "command-line"
  | "output-exists"
  | "system-fault"
  | "result-broken"
  | "result-overlap";

/** One thing that is wrong with the input: what, where, what was expected, what was found, how to mend it. */
export interface Problem {
  readonly code: ProblemCode;
  readonly what: string;
  readonly file: string | null;
  /** 1-based; null when the problem is with the whole file. */
  readonly line: number | null;
  /** 1-based; null when the problem is with the whole line. */
  readonly column: number | null;
  readonly expected: string | null;
  readonly found: string | null;
  readonly mend: string | null;
}

/** A problem as its finder writes it down: what is left out is null. */
export type ProblemParts = Pick<Problem, "code" | "what"> & Partial<Problem>;

/** A problem with null for what was left out. */
export function problem(parts: ProblemParts): Problem {
  return { file: null, line: null, column: null, expected: null, found: null, mend: null, ...parts };
}

/** Thrown for wrong input, with every problem found so far: the program prints them and ends with status 2. */
export class InputError extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly ProblemParts[]) {
    super(problems.map((parts) => problemText(problem(parts))).join("\n"));
    this.name = "InputError";
    this.problems = problems.map(problem);
  }
}

/** `file:line:column: what. Expected …; found …. To mend it: ….` — one line, control characters made visible. */
export function problemText(one: Problem): string {
  const place = [one.file, one.line, one.column].filter((part) => part !== null).join(":");
  const contrast = [
    one.expected === null ? null : `Expected ${one.expected}`,
    one.found === null ? null : `${one.expected === null ? "Found" : "found"} ${one.found}`,
  ].filter((part) => part !== null);
  const sentences = [one.what, contrast.join("; "), one.mend === null ? "" : `To mend it: ${one.mend}`]
    .filter((sentence) => sentence !== "")
    .map((sentence) => (/[.!?]$/.test(sentence) ? sentence : `${sentence}.`));
  return visible(`${place === "" ? "" : `${place}: `}${sentences.join(" ")}`);
}

/** Shows control characters as escapes: text from a file must not be able to rewrite the terminal. */
function visible(text: string): string {
  return text.replace(steering, (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`);
}
