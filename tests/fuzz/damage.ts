import { happens, type Random } from "../../src/simulate/random.js";

/** Bytes and texts that trip readers of any format: ends, signs that open something, numbers at the edge of what a word holds. */
const anyWhere = ["", "\0", "\r", "\n", "\r\n", '"', "'", ",", ";", "\t", "\ufeff", "\u2028", "-1", "0", "1e308", "NaN", "9".repeat(40), "\u001b[2J", "\u202e", "=1+1"];
/** 32 and 64 bits of ones, the largest signed, the smallest, and zero. */
const words = ["ffffffff", "ffffff7f", "00000080", "00000000", "ffffffffffffffff", "ffffffffffffff7f", "ff", "80", "7f", "01"].map((hex) => Buffer.from(hex, "hex"));
const MOST_CHANGES = 6;
/** Larger inputs only take longer. */
const LARGEST_BYTES = 400_000;

/** One of them. */
export function oneOf<Value>(random: Random, values: readonly Value[]): Value {
  return values[Math.floor(random() * values.length)]!;
}

/** A whole number below `end`, more often near nothing than even chance would have it. */
function place(random: Random, end: number): number {
  return Math.floor(end * (happens(random, 0.3) ? random() ** 3 : random()));
}

/** One change more often than not, as more hide one another; up to six. */
function changesIn(random: Random): number {
  return 1 + Math.floor(random() ** 4 * MOST_CHANGES);
}

/** A sample with one to six changes: bytes set, put in, taken out, said twice, taken from another sample, or cut off. `tokens` mean something in the format. */
export function damagedBytes(random: Random, samples: readonly Buffer[], tokens: readonly string[]): Buffer {
  let bytes: Buffer = Buffer.from(oneOf(random, samples));
  const changes = changesIn(random);
  for (let i = 0; i < changes; i++) bytes = changed(random, bytes, samples, tokens);
  return bytes.subarray(0, LARGEST_BYTES);
}

function changed(random: Random, bytes: Buffer, samples: readonly Buffer[], tokens: readonly string[]): Buffer {
  const at = place(random, bytes.length + 1);
  const length = Math.ceil(random() ** 4 * bytes.length);
  const put = (piece: Uint8Array, taken: number): Buffer => Buffer.concat([bytes.subarray(0, at), piece, bytes.subarray(at + taken)]);
  switch (Math.floor(random() * 9)) {
    case 0:
      return put(Buffer.from([Math.floor(random() * 256)]), 1);
    case 1: {
      const word = oneOf(random, words);
      return put(word, word.length);
    }
    case 2:
      return put(Buffer.from([(bytes[at] ?? 0) ^ (1 << Math.floor(random() * 8))]), 1);
    case 3:
      return put(Buffer.from(oneOf(random, anyWhere)), happens(random, 0.5) ? 0 : 1);
    case 4:
      return put(Buffer.from(oneOf(random, tokens)), happens(random, 0.5) ? 0 : Math.ceil(random() * 8));
    case 5:
      return put(Buffer.alloc(0), length);
    case 6:
      return put(bytes.subarray(at, at + length), 0);
    case 7: {
      const other = oneOf(random, samples);
      const from = place(random, other.length);
      return put(other.subarray(from, from + Math.ceil(random() ** 3 * other.length)), length);
    }
    default:
      return happens(random, 0.4) ? bytes.subarray(0, at) : put(Buffer.from(oneOf(random, tokens).repeat(1 + Math.floor(random() ** 6 * 2_000))), 0);
  }
}

/** What JSON values are changed to. */
const values: readonly unknown[] = [null, true, -1, 0, 1, 0.5, -1e308, 1e308, 1e15, 2 ** 53, "", "x", "\u001b[2J", "__proto__", "2026-06-31T00:00:00.000Z", "1970-01-01T00:00:00.000Z", "+275760-09-13T00:00:00.000Z", [], {}, [[]], [null]];

/** A copy of a JSON value with one to six of its parts changed, left out, said twice or put elsewhere, so that it still is JSON. */
export function damagedJson(random: Random, sample: unknown): unknown {
  const whole = { value: structuredClone(sample) };
  const changes = changesIn(random);
  for (let i = 0; i < changes; i++) changeSome(random, whole);
  return whole.value;
}

type Holder = Record<string, unknown>;

function changeSome(random: Random, whole: { value: unknown }): void {
  let holder: Holder = whole;
  let key = "value";
  // Down into the value; each step may be the last, so that high and deep parts both come up.
  for (;;) {
    const inner = holder[key];
    if (typeof inner !== "object" || inner === null || Object.keys(inner).length === 0 || happens(random, 0.12)) break;
    holder = inner as Holder;
    key = oneOf(random, Object.keys(inner));
  }
  const old = holder[key];
  if (holder === whole) return;
  switch (Math.floor(random() * 5)) {
    case 0:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      // eslint-disable-next-line @typescript-eslint/no-dynamic-delete -- a copy whose keys are not known
      else delete holder[key];
      return;
    case 1:
      if (Array.isArray(holder)) holder.splice(Number(key), 0, structuredClone(old));
      else holder[oneOf(random, Object.keys(holder))] = structuredClone(old);
      return;
    case 2:
      if (typeof old === "number") holder[key] = old * oneOf(random, [-1, 0, 2, 1000, 1e300]);
      else if (typeof old === "string") holder[key] = `${old.slice(0, Math.floor(random() * old.length))}${oneOf(random, anyWhere)}`;
      else holder[key] = oneOf(random, values);
      return;
    default:
      holder[key] = structuredClone(oneOf(random, values));
  }
}

/** A text with some of its lines left out, said twice, exchanged, moved in or out, or with tokens among them. */
export function damagedLines(random: Random, sample: string, tokens: readonly string[]): string {
  const lines = sample.split("\n");
  const changes = changesIn(random);
  for (let i = 0; i < changes; i++) {
    const at = Math.floor(random() * lines.length);
    const line = lines[at] ?? "";
    const piece = Math.floor(random() * (line.length + 1));
    switch (Math.floor(random() * 6)) {
      case 0:
        if (lines.length > 1) lines.splice(at, 1);
        break;
      case 1:
        lines.splice(at, 0, oneOf(random, lines));
        break;
      case 2:
        lines[at] = happens(random, 0.5) ? `  ${line}` : line.slice(1);
        break;
      case 3:
        lines[at] = line.slice(0, piece) + oneOf(random, tokens) + line.slice(piece);
        break;
      case 4:
        lines[at] = line.replace(/[\w.-]+/g, (word) => (happens(random, 0.15) ? oneOf(random, tokens) : word));
        break;
      default:
        lines[at] = line.slice(0, piece) + oneOf(random, lines).slice(piece);
    }
  }
  return lines.join("\n");
}
