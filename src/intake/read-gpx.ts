import sax from "sax";
import { InputError } from "../ground/problem.js";
import { makeTranscoder, sniffEncoding, type Encoding, type Transcoder } from "./encoding.js";
import type { RowIntake } from "./row-intake.js";

/** The columns that a GPX file is read as: a track point's time, its place in degrees, and the name of its track. */
export const gpxColumns = ["time", "lat", "lon", "track"] as const;

/** Deeper nesting than this is no track, and would fill the memory. */
const DEEPEST = 100;
/** A name or a time is not longer. */
const LONGEST_TEXT = 1000;

/** Takes a file's bytes. */
export interface GpxReader {
  readonly push: (chunk: Buffer) => void;
  /** `cutOff` says that the bytes are known to stop too soon. */
  readonly end: (cutOff?: boolean) => void;
}

/**
 * Reads GPX 1.0 and 1.1 (an open XML format for positions): every track point becomes a row of {@link gpxColumns}, its line
 * that on which it ends. What is not well-formed is set aside, once a line, and reading goes on; a file that stops in the
 * middle gives the points before. Throws `InputError` if the root of the file is no `gpx`.
 */
export function makeGpxReader(name: string, intake: RowIntake): GpxReader {
  const parser = sax.parser(true, { trim: true, xmlns: false });
  let transcoder: Transcoder | null = null;
  const decoder = new TextDecoder("utf-8");
  let depth = 0;
  let isRootSeen = false;
  let isCutOff = false;
  let failedLine = 0;
  let point: { lat: string; lon: string; time: string } | null = null;
  let track = "";
  const path: string[] = [];

  parser.onopentag = ({ name: tag, attributes: given }) => {
    // Texts, as the parser does not look at name spaces.
    const attributes = given as Readonly<Record<string, string>>;
    depth++;
    path.push(localName(tag));
    if (depth > DEEPEST) throw new InputError([notGpx(name, "elements inside one another without end")]);
    if (!isRootSeen) begin(localName(tag));
    const own = path.at(-1);
    if (own === "trk") track = "";
    else if (own === "trkpt") point = { lat: attributes["lat"] ?? "", lon: attributes["lon"] ?? "", time: "" };
  };
  parser.ontext = (text) => {
    const [outer, inner] = path.slice(-2);
    if (inner === "time" && outer === "trkpt" && point !== null) point.time = (point.time + text).slice(0, LONGEST_TEXT);
    else if (inner === "name" && outer === "trk") track = (track + text).slice(0, LONGEST_TEXT);
  };
  parser.onclosetag = () => {
    if (path.pop() === "trkpt" && point !== null) {
      // Closing a cut file closes every element: a point that was open then is not whole.
      if (!isCutOff) intake.row([point.time, point.lat, point.lon, track], parser.line + 1);
      point = null;
    }
    depth = path.length;
  };
  parser.onerror = (error) => {
    parser.resume();
    const what = error.message.split("\n")[0]!;
    if (/unclosed root tag|unexpected end/i.test(what)) isCutOff = true;
    else if (isRootSeen && parser.line + 1 !== failedLine) {
      failedLine = parser.line + 1;
      intake.badRow("markup not well-formed", what, "", failedLine);
    }
  };

  return {
    push(chunk) {
      transcoder ??= makeTranscoder(encodingOf(chunk));
      parser.write(decoder.decode(transcoder.push(chunk), { stream: true }));
    },
    end(cutOff = false) {
      isCutOff ||= cutOff;
      const openPoint = point !== null;
      const isEmpty = transcoder === null;
      if (path.length > 0) isCutOff = true;
      const line = parser.line + 1;
      parser.close();
      if (!isRootSeen && !isEmpty) throw new InputError([notGpx(name, "something else")]);
      if (!isCutOff || !isRootSeen) return;
      intake.cutOff();
      if (openPoint) intake.badRow("cut off", "the file stops inside a track point", "", line);
    },
  };

  function begin(root: string): void {
    if (root !== "gpx") throw new InputError([notGpx(name, `a root element "${root.slice(0, 60)}"`)]);
    isRootSeen = true;
    intake.row(gpxColumns, 1);
  }
}

/** XML says its encoding in its first line, if it is not UTF-8 or marked. */
function encodingOf(head: Buffer): Encoding {
  const look = sniffEncoding(head.subarray(0, 4096));
  if (look.because === "byte order mark" || look.because === "zero bytes") return look.encoding;
  const said = /^\s*<\?xml[^>]*\sencoding\s*=\s*["']([^"']+)["']/.exec(head.subarray(0, 200).toString("latin1"))?.[1]?.toLowerCase();
  return said === "iso-8859-1" || said === "windows-1252" ? "windows-1252" : "utf-8";
}

function localName(tag: string): string {
  return tag.slice(tag.indexOf(":") + 1);
}

function notGpx(file: string, found: string): ConstructorParameters<typeof InputError>[0][number] {
  return { code: "file-binary", what: "The file is not GPX", file, expected: "GPX, as its name ends in .gpx", found, mend: "give it the ending of what it is, or export it again" };
}
