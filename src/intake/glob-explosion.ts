/** With more stars in one name a glob is not looked for as it stands: the time multiplies by the length of the longest name with each. Our own choice. */
const MOST_STARS = 3;
/** Choices in braces and ranges are written out before anything is looked for. Our own choice. */
const MOST_WRITTEN_OUT = 1_000;
/** No path is longer. */
const LONGEST_PATTERN = 4_096;

/** What is wrong with a pattern, as a message says it. */
export interface Explosion {
  readonly expected: string;
  readonly found: string;
}

/**
 * Why a glob would take for ever or fill the memory: braces that stand for too many patterns (`{1..9999999}`, `{a,b}{a,b}…`), repeated groups, many
 * stars beside such signs, or a length no path has. Null for all others, which {@link simpler} makes quick.
 */
export function explosionIn(pattern: string): Explosion | null {
  if (pattern.length > LONGEST_PATTERN) return { expected: `at most ${counted(LONGEST_PATTERN)} characters`, found: `${counted(pattern.length)} characters` };
  if (/[*+]\(/.test(pattern)) return { expected: "a pattern of *, ?, [ ] and { }", found: "groups that repeat" };
  const many = writtenOut(pattern);
  if (many > MOST_WRITTEN_OUT) return { expected: `braces that stand for at most ${counted(MOST_WRITTEN_OUT)} patterns`, found: `braces that stand for ${many < 1e15 ? counted(many) : "countless"}` };
  return starsIn(pattern) > MOST_STARS && simpler(pattern) === null ? { expected: `at most ${MOST_STARS} stars in one name beside ( ), [ ], { } or **`, found: `${starsIn(pattern)} of them` } : null;
}

/** A pattern that finds at least as much, in a short time, and what the end of each path found must fit besides. */
export interface Simpler {
  readonly wider: string;
  /** Null: the pattern was quick as it stood. */
  readonly tail: string | null;
  /** Of so many names is the tail. */
  readonly tailNames: number;
}

/** The same search made quick: names with many stars are looked for as `*`, and fitted afterwards. Null where that cannot be. */
export function simpler(pattern: string): Simpler | null {
  if (starsIn(pattern) <= MOST_STARS) return { wider: pattern, tail: null, tailNames: 0 };
  const names = pattern.split("/");
  const first = names.findIndex((name) => starsIn(name) > MOST_STARS);
  const tail = names.slice(first);
  if (first < 0 || tail.some((name) => name === "**") || /[[\](){}!+@|\\]/.test(pattern)) return null;
  const wider = [...names.slice(0, first), ...tail.map((name) => (name.includes("*") ? (name.startsWith(".") ? ".*" : "*") : name))].join("/");
  return { wider, tail: tail.join("/"), tailNames: tail.length };
}

/** The most stars in one name. With braces or the like a slash may stand inside them: then all stars count. */
function starsIn(pattern: string): number {
  const names = /[{(]/.test(pattern) ? [pattern.replace(/(?:^|\/)\*\*(?=\/)/g, "")] : pattern.split("/").filter((name) => name !== "**");
  return Math.max(0, ...names.map((name) => name.split(/\*+/).length - 1));
}

/** How many patterns the braces of a pattern stand for; as many or more. */
function writtenOut(pattern: string): number {
  // Of each open brace: what its finished choices come to, and what the choice at hand has come to so far.
  const open: { choices: number; now: number; from: number; hasComma: boolean }[] = [{ choices: 0, now: 1, from: 0, hasComma: false }];
  for (let i = 0; i < pattern.length; i++) {
    const top = open[open.length - 1];
    if (top === undefined) return Infinity;
    const sign = pattern[i];
    if (sign === "\\") i++;
    else if (sign === "{") open.push({ choices: 0, now: 1, from: i + 1, hasComma: false });
    else if (sign === "," && open.length > 1) {
      top.choices += top.now;
      top.now = 1;
      top.hasComma = true;
    } else if (sign === "}" && open.length > 1) {
      open.pop();
      const outer = open[open.length - 1];
      if (outer === undefined) return Infinity;
      outer.now *= top.hasComma ? top.choices + top.now : Math.max(rangeLength(pattern.slice(top.from, i)), top.now);
    }
  }
  // Braces that are never closed may still be taken for choices.
  return open.reduce((product, { choices, now }) => product * (choices + now), 1);
}

/** How many numbers or letters `1..31` or `a..z` stands for; 1 for anything else. */
function rangeLength(inside: string): number {
  const match = /^(-?\d+)\.\.(-?\d+)(?:\.\.-?\d+)?$/.exec(inside);
  if (match !== null) return Math.abs(Number(match[2]) - Number(match[1])) + 1;
  return inside.includes("..") ? 60 : 1;
}

function counted(count: number): string {
  return count.toLocaleString("en-GB");
}
