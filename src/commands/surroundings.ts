import type { Readable, Writable } from "node:stream";

/** A terminal at which somebody can be asked. */
export interface Terminal {
  readonly input: Readable;
  readonly output: Writable;
}

/** Everything a command needs from outside, passed in so that tests can pass their own. */
export interface Surroundings {
  /** Prints the command's result, as plain text. */
  readonly say: (text: string) => void;
  /** Prints warnings, errors and progress. */
  readonly tell: (text: string) => void;
  /** Whether `tell` writes to a terminal: progress is shown only there. */
  readonly tellsTerminal: boolean;
  /** False when NO_COLOR is set or the output is not a terminal. */
  readonly colour: boolean;
  /** Null where the input or the output is no terminal: nobody can be asked. */
  readonly terminal: Terminal | null;
  /** Epoch milliseconds. */
  readonly now: () => number;
  /** Paths on the command line are relative to this folder. */
  readonly folder: string;
}

/** The exit status: 0 clear, 1 our fault, 2 wrong input, 3 done but a rule is not clear. */
export type ExitStatus = 0 | 1 | 2 | 3;
