/**
 * A piece of the result with the path it stands at in the JSON file, so that every number on a page can say where it
 * came from.
 */
export interface Traced<Of> {
  readonly of: Of;
  /** `signals.3`; empty for the whole result. */
  readonly from: string;
  /** Its place in the list it stands in. */
  readonly index: number;
}

/** An entry of a list, with the entry that holds the list. */
export interface TracedRow<Of, Above = unknown> extends Traced<Of> {
  readonly above: Traced<Above>;
}

/** The path of every `Value` (or null) within `Of`: keys joined by dots. Empty: `Of` itself. Lists are not entered. */
export type PathTo<Of, Value> = (Of extends Value ? "" : never) | InnerPath<Of, Value>;

type InnerPath<Of, Value> = Of extends readonly unknown[]
  ? never
  : {
      [Key in keyof Of & string]:
        | (Of[Key] extends Value | null ? Key : never)
        | (NonNullable<Of[Key]> extends object ? `${Key}.${InnerPath<NonNullable<Of[Key]>, Value>}` : never);
    }[keyof Of & string];

type Step<Of, Key> = Of extends readonly (infer Entry)[] ? Entry : Key extends keyof Of ? Of[Key] : never;
/** What stands at a path; `*` and numbers step into a list. */
export type At<Of, Path extends string> = Path extends `${infer Key}.${infer Rest}`
  ? At<Step<NonNullable<Of>, Key>, Rest>
  : Step<NonNullable<Of>, Path>;
type EntryAt<Of, Path extends string> = NonNullable<At<Of, Path>> extends readonly (infer Entry)[] ? Entry : never;
type AboveOf<Of, Path extends string> = Path extends `${infer Head}.*.${string}`
  ? Path extends `${Head}.*.${infer Rest}`
    ? AboveOf<EntryAt<Of, Head>, Rest>
    : never
  : Of;

/** The whole result: paths below it begin at its keys. */
export function whole<Of>(of: Of): Traced<Of> {
  return { of, from: "", index: 0 };
}

/** What stands at a path below a piece; null only where the last key of the path can be. */
export function tracedAt<Of, const Path extends string>(
  piece: Traced<Of>,
  path: Path,
): Traced<NonNullable<At<Of, Path>>> | (null extends At<Of, Path> ? null : never) {
  const of = valueAt(piece.of, path);
  return (of === null ? null : { of, from: joined(piece.from, path), index: piece.index }) as Traced<NonNullable<At<Of, Path>>>;
}

/**
 * The entries of the lists at a path below a piece, in order. A `*` stands for every entry of a list on the way; a
 * list that is null has none.
 */
export function rowsAt<Of, const Path extends string>(piece: Traced<Of>, path: Path): TracedRow<EntryAt<Of, Path>, AboveOf<Of, Path>>[] {
  return entriesAt(piece, path) as TracedRow<EntryAt<Of, Path>, AboveOf<Of, Path>>[];
}

function entriesAt(piece: Traced<unknown>, path: string): TracedRow<unknown>[] {
  const [, list = path, rest] = /^(.*?)\.\*\.(.*)$/.exec(path) ?? [];
  const entries = (valueAt(piece.of, list) ?? []) as readonly unknown[];
  const rows = entries.map((of, index) => ({ of, from: `${joined(piece.from, list)}.${index}`, index, above: piece }));
  return rest === undefined ? rows : rows.flatMap((row) => entriesAt(row, rest));
}

/**
 * The value at a path below plain data; null where a step on the way is null. A `*` makes a list of what every entry
 * holds there.
 */
export function valueAt(data: unknown, path: string): unknown {
  if (path === "" || data === null) return data;
  const [key = "", ...rest] = path.split(".");
  const below = rest.join(".");
  if (key === "*") return (data as readonly unknown[]).map((entry) => valueAt(entry, below));
  return valueAt((data as Readonly<Record<string, unknown>>)[key], below);
}

/** A path below another one. */
export function joined(from: string, path: string): string {
  return from === "" || path === "" ? from + path : `${from}.${path}`;
}
