import { isUtf8 } from "node:buffer";

/** The ways of writing text in bytes that exports come in. Windows-1252 holds everything that ISO 8859-1 can print. */
export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

/** The encoding that the first bytes of a file show, and why. */
export interface EncodingLook {
  readonly encoding: Encoding;
  /**
   * `byte order mark`: certain. `zero bytes`: every other byte of the text is zero, as only UTF-16 writes it.
   * `valid`: the bytes read as UTF-8. Text in other encodings almost never does; plain ASCII is UTF-8.
   * `not utf-8`: some bytes do not, and Windows-1252 is what such exports usually are (common practice, no source).
   */
  readonly because: "byte order mark" | "zero bytes" | "valid" | "not utf-8";
}

/** Give {@link sniffEncoding} this many bytes, if the file has them. */
export const HEAD_BYTES = 4096;

/** At least this share of the characters must show their zero byte before text without a mark is taken for UTF-16. Our own choice. */
const ZERO_SHARE = 0.4;
/** The longest a UTF-8 character can be that the end of the head may have cut. */
const CUT_BYTES = 3;

const marks: readonly (readonly [Encoding, readonly number[]])[] = [
  ["utf-8", [0xef, 0xbb, 0xbf]],
  ["utf-16le", [0xff, 0xfe]],
  ["utf-16be", [0xfe, 0xff]],
];

/** Finds the encoding of a file from its first bytes ({@link HEAD_BYTES} are plenty; fewer do). Never throws. */
export function sniffEncoding(head: Uint8Array): EncodingLook {
  const marked = marks.find(([, mark]) => mark.every((byte, i) => head[i] === byte));
  if (marked !== undefined) return { encoding: marked[0], because: "byte order mark" };
  const utf16 = zeroSide(head);
  if (utf16 !== null) return { encoding: utf16, because: "zero bytes" };
  for (let cut = 0; cut <= CUT_BYTES && cut <= head.length; cut++) {
    if (isUtf8(head.subarray(0, head.length - cut))) return { encoding: "utf-8", because: "valid" };
  }
  return { encoding: "windows-1252", because: "not utf-8" };
}

/** Turns chunks of bytes into chunks of UTF-8 bytes; `end` gives what a cut last character leaves. Chunks may end anywhere. */
export interface Transcoder {
  readonly push: (chunk: Uint8Array) => Buffer;
  readonly end: () => Buffer;
}

/**
 * Makes a transcoder to UTF-8. UTF-8 passes through untouched (its own mistakes are found row by row later). What does
 * not decode otherwise becomes a byte that no UTF-8 text holds, so that exactly that row is found not decodable.
 */
export function makeTranscoder(encoding: Encoding): Transcoder {
  if (encoding === "utf-8") return { push: (chunk) => Buffer.from(chunk.buffer, chunk.byteOffset, chunk.byteLength), end: () => Buffer.alloc(0) };
  const decoder = new TextDecoder(encoding);
  return { push: (chunk) => utf8Bytes(decoder.decode(chunk, { stream: true })), end: () => utf8Bytes(decoder.decode()) };
}

const REPLACEMENT = "\ufffd";
const NO_UTF8 = Buffer.from([0xff]);

function utf8Bytes(text: string): Buffer {
  if (!text.includes(REPLACEMENT)) return Buffer.from(text, "utf8");
  return Buffer.concat(text.split(REPLACEMENT).flatMap((part, i) => (i === 0 ? [Buffer.from(part, "utf8")] : [NO_UTF8, Buffer.from(part, "utf8")])));
}

/** Which UTF-16 the zero bytes tell of: exports are mostly digits and Latin letters, whose high byte is zero. */
function zeroSide(head: Uint8Array): Encoding | null {
  const pairs = Math.floor(head.length / 2);
  if (pairs === 0) return null;
  const zerosAt = (side: 0 | 1): number => Array.from({ length: pairs }, (_, i) => head[2 * i + side]).filter((byte) => byte === 0).length;
  const [even, odd] = [zerosAt(0), zerosAt(1)];
  if (odd >= pairs * ZERO_SHARE && even === 0) return "utf-16le";
  return even >= pairs * ZERO_SHARE && odd === 0 ? "utf-16be" : null;
}
