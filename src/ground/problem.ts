/**
 * The one way Keyworthy says that input is wrong. Every code is listed once, here; the type is derived from it.
 */
export const problemCodes = [
  "file-missing",
  "file-empty",
  "file-binary",
  "file-cut-off",
  "header-missing",
  "column-missing",
  "column-repeated",
  "yaml-syntax",
  "site-shape",
  "site-reference",
  "site-unit",
  "site-band",
  "time-zone-unknown",
  "rule-never-fires",
  "diary-row",
  "scenario-shape",
  "period-unreadable",
  "period-empty",
  "command-line",
  "output-exists",
  "result-broken",
  "result-overlap",
] as const;

/** A stable code for scripts; the text beside it is for people and may change. */
export type ProblemCode = (typeof problemCodes)[number];

/** One thing that is wrong with the input: what, where, what was expected, what was found, how to mend it. */
export interface Problem {
  readonly code: ProblemCode;
  readonly what: string;
  readonly file: string | null;
  /** 1-based; null where the whole file is meant. */
  readonly line: number | null;
  /** 1-based; null where the whole line is meant. */
  readonly column: number | null;
  readonly expected: string | null;
  readonly found: string | null;
  readonly mend: string | null;
}

/** What must be given of a problem; the rest is null. */
export type ProblemParts = Pick<Problem, "code" | "what"> & Partial<Problem>;

/** Fills in what was not given. */
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

/** Control characters would let a log line hidden in a file rewrite the terminal; they are shown as escapes. */
function visible(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`);
}
