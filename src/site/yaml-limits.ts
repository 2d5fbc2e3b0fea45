import { InputError } from "../ground/problem.js";

/** Deeper nesting than any site needs; a limit keeps hostile files from exhausting the stack. */
export const DEEPEST = 60;
/** What stands between quotes counts too, so that the limit is generous. */
const MOST_LEVELS = DEEPEST * 4;
/** What separates values, or says something of one: each takes the parser some time. */
const COUNTED: ReadonlySet<string> = new Set([":", ",", "&", "*", "!", "%"]);

/**
 * Refuses YAML that a parser would recurse into too deep, which ends the whole program, or build too much of, before it is parsed: `mostSigns` line
 * ends, colons, commas and marks (`& * ! %`) are allowed. Throws `InputError`.
 */
export function refuseEndless(text: string, file: string, mostSigns: number): void {
  const refuse = (what: string, line: number): never => {
    throw new InputError([{ code: "yaml-syntax", what, file, line }]);
  };
  let signs = 0;
  let brackets = 0;
  /** Where the levels begin that the line lies in, as its indentation shows. */
  const columns: number[] = [];
  let at = 0;
  // One after another: a list of all of them would itself be too much.
  for (const [line] of text.matchAll(/[^\r\n]*(?:\r\n|\n|\r|$)/g)) {
    at++;
    signs++;
    for (const character of line) {
      if (character === "[" || character === "{") brackets++;
      else if (character === "]" || character === "}") brackets--;
      else if (COUNTED.has(character)) signs++;
      if (brackets > MOST_LEVELS) refuse("The file has too many brackets within brackets", at);
    }
    if (signs > mostSigns) refuse(`The file is too long: up to here it has more than ${mostSigns.toLocaleString("en-GB")} line ends, colons, commas and marks`, at);
    if (line.trim() === "") continue;
    // One level, and one more for each sign of a list or a key in front of the line's text: `- - - x` lies three lists deep.
    let column = /^[ \t]*/.exec(line)?.[0].length ?? 0;
    while ((columns.at(-1) ?? -1) >= column) columns.pop();
    columns.push(column);
    for (const [sign] of line.slice(column).matchAll(/[-?:][ \t]+/gy)) {
      column += sign.length;
      columns.push(column);
      if (columns.length > MOST_LEVELS) break;
    }
    if (columns.length > MOST_LEVELS) refuse("The file has too many levels within levels", at);
  }
}
