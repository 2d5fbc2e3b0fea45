/** Everything a command needs of the world outside, handed in so that tests can hand in their own. */
export interface Surroundings {
  /** Plain text for the reader of the command's result. */
  readonly say: (text: string) => void;
  /** Warnings, errors and progress. */
  readonly tell: (text: string) => void;
  /** Progress is shown only to a terminal. */
  readonly tellsTerminal: boolean;
  /** False when NO_COLOR is set or the output is not a terminal. */
  readonly colour: boolean;
  /** Epoch milliseconds. */
  readonly now: () => number;
  /** Paths on the command line are relative to this folder. */
  readonly folder: string;
}

/** What a finished command means to the shell: 0 clear, 1 our fault, 2 wrong input, 3 done but a rule is not clear. */
export type ExitStatus = 0 | 1 | 2 | 3;
