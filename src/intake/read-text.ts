import { InputError, type ProblemParts } from "../ground/problem.js";
import { HEAD_BYTES, makeTranscoder, sniffEncoding, type Encoding, type Transcoder } from "./encoding.js";
import { firstLineEnd } from "./lines.js";
import type { ChunkReader, RowSink } from "./row-sink.js";
import { makeRowReader } from "./rows.js";
import { problemOfFormat } from "./what-it-is.js";

/** How the text of an export is written. `encoding` null: as its first bytes show. */
export interface TextWriting {
  readonly delimiter: string;
  readonly encoding: Encoding | null;
}

/**
 * Reads delimited text (`name` is for messages). `push` and `end` throw `InputError` when the head of the file shows that
 * it is no text, or whatever the sink throws.
 */
export function makeTextReader(name: string, { delimiter, encoding }: TextWriting, sink: RowSink): ChunkReader {
  const rows = makeRowReader(delimiter, sink);
  let head = Buffer.alloc(0);
  let transcoder: Transcoder | null = null;
  const begin = (): Transcoder => {
    const begun = makeTranscoder(encodingOf(name, head.subarray(0, HEAD_BYTES), encoding));
    rows.push(begun.push(head));
    return begun;
  };
  return {
    push(chunk) {
      if (transcoder !== null) {
        rows.push(transcoder.push(chunk));
        return;
      }
      head = Buffer.concat([head, chunk]);
      if (head.length >= HEAD_BYTES) transcoder = begin();
    },
    end(cutOff) {
      transcoder ??= begin();
      rows.push(transcoder.end());
      if (cutOff) sink.cutOff();
      rows.end();
    },
  };
}

/** The encoding of a file that begins with `head`: its byte order mark decides, then `said`, then what the bytes show. */
function encodingOf(name: string, head: Buffer, said: Encoding | null): Encoding {
  const look = sniffEncoding(head);
  if (look.because === "byte order mark") return look.encoding;
  const encoding = said ?? (look.because === "zero bytes" ? look.encoding : "utf-8");
  // Only the header decides: zero bytes further down cost the rows they are in.
  const isText = encoding.startsWith("utf-16") || !head.subarray(0, firstLineEnd(head, true) || head.length).includes(0);
  const format = isText ? null : problemOfFormat(name, head);
  if (format !== null) throw new InputError([format]);
  if (!isText) throw new InputError([notText(name, look.because === "zero bytes")]);
  return encoding;
}

function notText(file: string, looksLikeUtf16: boolean): ProblemParts {
  return looksLikeUtf16
    ? {
        code: "file-binary",
        what: "The file is not written as the site file says",
        file,
        expected: "text of one byte a character or UTF-8",
        found: "what looks like UTF-16",
        mend: "take `encoding` out of the site file, or save the file as it says",
      }
    : {
        code: "file-binary",
        what: "The file is not plain text",
        file,
        expected: "CSV as text",
        found: "zero bytes",
        mend: "export it as CSV (a packed file must be gzip, with a name that ends in .gz; a Parquet file must end in .parquet)",
      };
}
