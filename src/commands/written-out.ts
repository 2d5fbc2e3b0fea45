import { InputError } from "../ground/problem.js";

/**
 * Returns a path given as an option's value. Throws `InputError` if it begins with `~`: the shell does not expand the sign in
 * `--out=~/audits` or in quotes, and the result would go into a folder called `~`.
 */
export function writtenOut(path: string): string {
  if (path !== "~" && !path.startsWith("~/")) return path;
  throw new InputError([{ code: "command-line", what: `The path ${path} begins with ~, which the shell has left as it is`, expected: "a path that is written out", found: path, mend: "write $HOME for ~, or put a space for = and leave out quotes" }]);
}
