import { InputError } from "../ground/problem.js";
import type { Source } from "../site/site.js";
import type { SignalIntake } from "./columns.js";
import { HEAD_BYTES, makeTranscoder, sniffEncoding, type Encoding, type Transcoder } from "./encoding.js";
import { firstLineEnd } from "./lines.js";
import type { LedgerRow, SetAsideRow } from "./readings.js";
import { makeRowIntake } from "./row-intake.js";
import { makeRowReader } from "./rows.js";

/** Takes one file's bytes into its source's series. */
export interface FileIntake {
  /** Throws `InputError` if the head of the file shows that it cannot be read: binary, or a header that does not fit. */
  readonly push: (chunk: Buffer) => void;
  /** Call once, after the last chunk. `cutOff` says that the bytes are known to stop too soon. Throws `InputError` if there was nothing to read. */
  readonly end: (cutOff?: boolean) => LedgerRow;
  /** Rows so far, for showing progress. */
  readonly rows: () => number;
  /** The instant of the row accepted last; -Infinity before the first. */
  readonly lastInstant: () => number;
}

/** Makes the intake of one file of delimited text (`name` relative to the site file's folder). */
export function makeFileIntake(source: Source, intakes: readonly SignalIntake[], name: string, onSetAside: (row: SetAsideRow) => void): FileIntake {
  const intake = makeRowIntake(source, intakes, name, onSetAside);
  const rows = makeRowReader(source.delimiter, { onRow: intake.row, onBadRow: intake.badRow });
  let head: Buffer | null = Buffer.alloc(0);
  let transcoder: Transcoder | null = null;

  return {
    rows: intake.rows,
    lastInstant: intake.lastInstant,
    push(chunk) {
      if (head === null) {
        rows.push(transcoder!.push(chunk));
        return;
      }
      // A copy: the chunk's memory will be used again.
      head = Buffer.concat([head, chunk]);
      if (head.length >= HEAD_BYTES) begin(head);
    },
    end(cutOff = false) {
      if (head !== null) begin(head);
      rows.push(transcoder!.end());
      if (cutOff) intake.cutOff();
      rows.end();
      return intake.finish();
    },
  };

  function begin(bytes: Buffer): void {
    head = null;
    transcoder = makeTranscoder(encodingOf(bytes.subarray(0, HEAD_BYTES)));
    rows.push(transcoder.push(bytes));
  }

  function encodingOf(start: Buffer): Encoding {
    const look = sniffEncoding(start);
    if (look.because === "byte order mark") return look.encoding;
    const encoding = source.encoding ?? (look.because === "zero bytes" ? look.encoding : "utf-8");
    // Only the header decides: zero bytes further down cost the rows they are in.
    if (!encoding.startsWith("utf-16") && start.subarray(0, firstLineEnd(start, true) || start.length).includes(0)) throw new InputError([notText(name, look.because === "zero bytes")]);
    return encoding;
  }
}

function notText(file: string, looksLikeUtf16: boolean): ConstructorParameters<typeof InputError>[0][number] {
  return looksLikeUtf16
    ? { code: "file-binary", what: "The file is not written as the site file says", file, expected: "text of one byte a character or UTF-8", found: "what looks like UTF-16", mend: "take `encoding` out of the site file, or save the file as it says" }
    : { code: "file-binary", what: "The file is not plain text", file, expected: "CSV as text", found: "zero bytes", mend: "export it as CSV (a packed file must be gzip, with a name that ends in .gz; a Parquet file must end in .parquet)" };
}
