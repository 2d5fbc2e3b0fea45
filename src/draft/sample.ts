/**
 * What was read of one export file. `pieces` are stretches of its (unpacked) bytes in file order: one piece when `whole`,
 * else the head, evenly spaced parts of the middle, and the tail. A piece after the first begins anywhere in a row.
 */
export interface Sample {
  /** The path as the site file is to name it: relative to the site file's folder. */
  readonly name: string;
  /** Length of the unpacked file. */
  readonly bytes: number;
  readonly pieces: readonly Uint8Array[];
  readonly whole: boolean;
  /** A packed file that ends too soon: this is what could be unpacked. */
  readonly cutOff?: boolean;
}

/** One thing that was inferred, with what speaks for it. */
export interface Inference {
  /** What it is about: a source, a signal, a subject. */
  readonly about: string;
  readonly says: string;
  readonly evidence: string;
}

/** A text of an export as it may stand in a comment or on a terminal: quoted, short, no character that could break out. */
export function shown(text: string): string {
  const cut = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  return `"${cut.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, "?").replaceAll('"', "'")}"`;
}

/** A count with thousands separators. */
export function counted(count: number): string {
  return count.toLocaleString("en");
}
