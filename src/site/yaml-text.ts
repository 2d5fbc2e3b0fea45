import { uncapitalised } from "../ground/first-letter.js";
import { isAlias, isMap, isNode, isScalar, isSeq, LineCounter, parseDocument, type Document, type Scalar, type YAMLMap } from "yaml";
import { DEEPEST, refuseEndless } from "./yaml-limits.js";
import { InputError, type ProblemParts } from "../ground/problem.js";

/**
 * A YAML file as plain text values: every scalar is the text the user wrote (`1`, `true`, `007` and `1.50` stay so),
 * so that a word or a name means what it looks like. Numbers are read later, where a number is wanted.
 */
export type Written = null | string | readonly Written[] | { readonly [key: string]: Written };

/** Keys (text) and list positions (0-based) that lead from the top of the file to a value. */
export type Path = readonly (string | number)[];

/** A place in the file, both 1-based. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

/** A YAML file that could be read, with the place of everything in it. */
export interface YamlText {
  readonly value: Written;
  /** What is wrong without the file being unreadable: a key given twice, a name with control characters. */
  readonly problems: readonly ProblemParts[];
  /** The place of a value, or of the nearest thing around it. */
  readonly placeOf: (path: Path) => Place;
  /** The place of a value's key; of the value itself where it has no key (a list's item, the whole file). */
  readonly placeOfKey: (path: Path) => Place;
}

/** More values than any site needs (a fleet of a thousand bays has some 20 000), counted with aliases followed. */
const MOST_VALUES = 200_000;

/** More line ends, colons, commas and marks than any site needs: one of a thousand bays has some 100 000. Our own choice. */
const MOST_SIGNS = 300_000;

/** So many keys given twice or unusable are told one by one. Our own choice. */
const MOST_KEY_PROBLEMS = 100;

/** After this many mistakes the parser has usually lost its way, and the rest are echoes. */
const MOST_SYNTAX_PROBLEMS = 10;

/** Control characters and halves of surrogate pairs: they have no place in a name and would garble every output. */
const unprintable = /[\p{Cc}\p{Cs}]/u;

/**
 * Reads YAML 1.2 text. Throws `InputError` when it is empty, not YAML, more than one document, nested too deep or too large;
 * never anything else.
 */
export function readYaml(text: string, file: string): YamlText {
  if (text.trim() === "") throw new InputError([{ code: "file-empty", what: "The file is empty", file, expected: "YAML text" }]);
  refuseEndless(text, file, MOST_SIGNS);
  const lines = new LineCounter();
  const place = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { line: Math.max(1, line), column: Math.max(1, col) };
  };
  const document = documentOf(text, file, lines, place);
  return written(document, file, place);
}

function documentOf(text: string, file: string, lines: LineCounter, place: (offset: number) => Place): Document.Parsed {
  let document: Document.Parsed;
  try {
    document = parseDocument(text, {
      version: "1.2",
      schema: "core",
      lineCounter: lines,
      uniqueKeys: false,
      prettyErrors: false,
      logLevel: "error",
    });
  } catch (error) {
    // The parser reports wrong YAML in `errors`; what it throws is its own limits (the stack) met by hostile text.
    throw new InputError([
      { code: "yaml-syntax", what: "The file cannot be read as YAML", file, found: error instanceof Error ? error.message : String(error) },
    ]);
  }
  const wrong = [...document.errors, ...document.warnings];
  if (wrong.length > 0) {
    throw new InputError(
      wrong.slice(0, MOST_SYNTAX_PROBLEMS).map((one) => ({
        code: "yaml-syntax",
        what: "The file cannot be read as YAML here",
        file,
        ...place(one.pos[0]),
        found: syntaxText(one.message),
        mend: syntaxMend(one.code),
      })),
    );
  }
  return document;
}

/** The usual cure for a mistake that the parser names in its own terms; null where none is known. */
function syntaxMend(code: string): string | null {
  if (code === "TAB_AS_INDENT") return "indent with spaces";
  if (code === "MULTIPLE_DOCS") return "keep one site to a file";
  return code === "BLOCK_AS_IMPLICIT_KEY" ? 'put a text that holds ": " between quotes, and begin each key on a line of its own' : null;
}

/** The parser's message as the end of a sentence. */
function syntaxText(message: string): string {
  if (/multiple documents/.test(message)) return "a second document, after a line with ---";
  if (/call stack/i.test(message)) return "too many levels of nesting";
  const firstLine = message.split("\n")[0] ?? message;
  return uncapitalised(firstLine.replace(/[:.]$/, ""));
}

/** Turns the parsed document into text values and remembers where each stands. */
function written(document: Document.Parsed, file: string, place: (offset: number) => Place): YamlText {
  const places = new Map<string, { key: Place | null; value: Place }>();
  const problems: ProblemParts[] = [];
  /** The node each anchor names, as far as the file has been read: an alias means the last one before it. */
  const anchors = new Map<string, unknown>();
  let values = 0;
  let aliasesFollowed = 0;
  const giveUp = (what: string, at: Place): never => {
    throw new InputError([...problems, { code: "yaml-syntax", what, file, ...at }]);
  };

  const valueOf = (given: unknown, path: Path, key: Place | null): Written => {
    const start = rangeStart(given);
    const at = start === null ? (key ?? { line: 1, column: 1 }) : place(start);
    if (isAlias(given)) {
      if (!anchors.has(given.source)) {
        problems.push({
          code: "yaml-syntax",
          what: `The alias *${given.source} has no value`,
          file,
          ...at,
          expected: `a value marked &${given.source} before it`,
        });
      }
      aliasesFollowed++;
      const value = valueOf(anchors.get(given.source) ?? null, path, key);
      aliasesFollowed--;
      return value;
    }
    const node = given;
    if (aliasesFollowed === 0 && isNode(node) && "anchor" in node) anchors.set(node.anchor, node);
    places.set(JSON.stringify(path), { key, value: at });
    values++;
    if (values > MOST_VALUES) giveUp(`The file holds more than ${MOST_VALUES} values`, at);
    if (path.length > DEEPEST) giveUp(`The file is nested more than ${DEEPEST} levels deep`, at);
    if (isMap(node)) return mappingOf(node, path);
    if (isSeq(node)) return node.items.map((item, position) => valueOf(item, [...path, position], null));
    return isScalar(node) ? scalarText(node) : null;
  };

  const mappingOf = (node: YAMLMap, path: Path): Written => {
    const entries = new Map<string, Written>();
    for (const { key, value } of node.items) {
      if (problems.length >= MOST_KEY_PROBLEMS) giveUp("There are more mistakes in the file than are told", place(rangeStart(key) ?? rangeStart(node) ?? 0));
      const keyNode: unknown = isAlias(key) ? anchors.get(key.source) : key;
      const at = place(rangeStart(key) ?? rangeStart(node) ?? 0);
      const name = isScalar(keyNode) ? (scalarText(keyNode) ?? "") : null;
      const wrong = keyProblem(name);
      if (name === null || wrong !== null) {
        problems.push({ code: "site-shape", what: wrong ?? "", file, ...at, found: name === null ? null : JSON.stringify(name) });
        continue;
      }
      const childPath = [...path, name];
      const first = places.get(JSON.stringify(childPath));
      if (entries.has(name)) {
        problems.push({
          code: "site-shape",
          what: `${JSON.stringify(name)} is given twice`,
          file,
          ...at,
          expected: "each key once",
          found: `the first on line ${first?.key?.line ?? "?"}`,
          mend: "rename one, or delete it",
        });
      } else entries.set(name, valueOf(value, childPath, at));
    }
    return Object.fromEntries(entries);
  };

  const value = valueOf(document.contents, [], null);
  const nearest = (path: Path): { key: Place | null; value: Place } => {
    for (let length = path.length; length > 0; length--) {
      const found = places.get(JSON.stringify(path.slice(0, length)));
      if (found !== undefined) return found;
    }
    return places.get("[]") ?? { key: null, value: { line: 1, column: 1 } };
  };
  return { value, problems, placeOf: (path) => nearest(path).value, placeOfKey: (path) => nearest(path).key ?? nearest(path).value };
}

function keyProblem(name: string | null): string | null {
  if (name === null) return "A key must be plain text";
  if (name.trim() === "") return "A key must not be empty";
  if (unprintable.test(name)) return "A key must not contain control characters";
  // JavaScript objects give this one key a meaning of its own.
  if (name === "__proto__") return "This key is not allowed";
  return null;
}

/** Whether a text holds control characters or broken characters. */
export function hasUnprintable(text: string): boolean {
  return unprintable.test(text);
}

function rangeStart(node: unknown): number | null {
  const range = (node as { range?: readonly number[] | null } | null)?.range;
  return range?.[0] ?? null;
}

/** The text as written; null where nothing is written. */
function scalarText(node: Scalar): string | null {
  if (typeof node.value === "string") return node.value;
  return node.source === undefined || node.source === "" ? null : node.source;
}
