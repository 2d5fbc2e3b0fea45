import { InputError } from "../ground/problem.js";

/**
 * A path given as an option's value, as it is. Throws `InputError` for one that begins with `~`: the shell leaves the sign in
 * `--out=~/audits` and in quotes, and the result would go into a folder of that name here.
 */
export function writtenOut(path: string): string {
  if (path !== "~" && !path.startsWith("~/")) return path;
  throw new InputError([{ code: "command-line", what: `The path ${path} begins with ~, which the shell has left as it is`, expected: "a path that is written out", found: path, mend: "write $HOME for ~, or put a space for = and leave out quotes" }]);
}
