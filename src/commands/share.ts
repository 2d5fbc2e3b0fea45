import { InputError } from "../ground/problem.js";

/** One share of many site files: number `part` of `parts`, counted from 1. */
export interface Share {
  readonly part: number;
  readonly parts: number;
}

/** Reads a share such as `3/16`. Throws `InputError` if the text is not one. */
export function parseShare(text: string): Share {
  const match = /^([1-9]\d{0,5})\/([1-9]\d{0,5})$/.exec(text);
  const share = { part: Number(match?.[1]), parts: Number(match?.[2]) };
  if (match === null || share.part > share.parts) {
    throw new InputError([{ code: "command-line", what: `--part ${text} is not a share`, expected: "I/N with I from 1 to N, such as 3/16", found: text }]);
  }
  return share;
}

/**
 * The files of one share. All files are sorted by path and dealt out like cards: every file is in exactly one share, and
 * shares differ by at most one file. The same list gives the same shares on every machine.
 */
export function filesOfShare(files: readonly string[], { part, parts }: Share): string[] {
  return [...new Set(files)].sort((a, b) => (a < b ? -1 : 1)).filter((_, index) => index % parts === part - 1);
}
