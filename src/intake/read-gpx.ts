import type sax from "sax";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { makeTranscoder, sniffEncoding, type Encoding, type Transcoder } from "./encoding.js";
import type { ChunkReader, RowSink } from "./row-sink.js";
import { DEEPEST, LONGEST_TEXT, makeBoundedParser, withoutEndIn } from "./xml-limits.js";

/** The columns of a GPX file: a track point's time, its place in degrees, and the name of its track. */
const gpxColumns = ["time", "lat", "lon", "track"] as const;

/** How far a file has been read. */
interface State {
  readonly name: string;
  readonly sink: RowSink;
  readonly parser: sax.SAXParser;
  /** Names of the open elements, outermost first. */
  readonly path: string[];
  isRootSeen: boolean;
  isCutOff: boolean;
  /** The last line on which something was not well-formed; 0 before the first. */
  failedLine: number;
  /** The open track point, and the name of its track. */
  point: { readonly lat: string; readonly lon: string; time: string } | null;
  track: string;
}

/**
 * Reads GPX 1.0 and 1.1 (an open XML format for positions): every track point becomes a row of {@link gpxColumns}; its line
 * is the one on which it ends. What is not well-formed is set aside, once a line, and reading goes on; a file that stops
 * in the middle gives the points before. Throws `InputError` if the root of the file is not `gpx`, and where markup has no end: a tag, an
 * attribute, a comment or a document type of more than the parser's 64 kB, as it keeps them whole.
 */
export function makeGpxReader(name: string, sink: RowSink): ChunkReader {
  const { parser, write } = makeBoundedParser(
    { trim: true, xmlns: false },
    (found, line) => {
      throw new InputError([withoutEnd(name, found, line)]);
    },
    (attribute) => {
      // The parser asks each tag's attributes for this by name.
      if (attribute === "hasOwnProperty") throw new InputError([notGpx(name, "an attribute called hasOwnProperty")]);
    },
  );
  const state: State = { name, sink, parser, path: [], isRootSeen: false, isCutOff: false, failedLine: 0, point: null, track: "" };
  const decoder = new TextDecoder("utf-8");
  let transcoder: Transcoder | null = null;
  parser.onopentag = (tag) => {
    // Attributes are texts: the parser does not look at name spaces.
    openElement(state, localName(tag.name), tag.attributes as Readonly<Record<string, string>>);
  };
  parser.ontext = (text) => {
    takeText(state, text);
  };
  parser.onclosetag = () => {
    closeElement(state);
  };
  parser.onerror = (error) => {
    takeError(state, error);
  };
  return {
    push(chunk) {
      transcoder ??= makeTranscoder(encodingOf(chunk));
      write(decoder.decode(transcoder.push(chunk), { stream: true }));
    },
    end(cutOff) {
      endDocument(state, cutOff, transcoder === null);
    },
  };
}

function openElement(state: State, name: string, attributes: Readonly<Record<string, string>>): void {
  state.path.push(name);
  if (state.path.length > DEEPEST) throw new InputError([notGpx(state.name, "elements inside one another without end")]);
  if (!state.isRootSeen) {
    if (name !== "gpx") throw new InputError([notGpx(state.name, `a root element "${name.slice(0, 60)}"`)]);
    state.isRootSeen = true;
    state.sink.row(gpxColumns, 1, true);
  }
  if (name === "trk") state.track = "";
  else if (name === "trkpt") state.point = { lat: attributes["lat"] ?? "", lon: attributes["lon"] ?? "", time: "" };
}

function takeText(state: State, text: string): void {
  const [outer, inner] = state.path.slice(-2);
  if (inner === "time" && outer === "trkpt" && state.point !== null) state.point.time = (state.point.time + text).slice(0, LONGEST_TEXT);
  else if (inner === "name" && outer === "trk") state.track = (state.track + text).slice(0, LONGEST_TEXT);
}

function closeElement(state: State): void {
  const { point, sink, track, parser } = state;
  if (state.path.pop() !== "trkpt" || point === null) return;
  sink.row([point.time, point.lat, point.lon, track], parser.line + 1, true);
  state.point = null;
}

function takeError(state: State, error: Error): void {
  const { parser, sink } = state;
  const what = error.message.split("\n", 1).join();
  const endless = withoutEndIn(error);
  if (endless !== null) throw new InputError([withoutEnd(state.name, endless, parser.line + 1)]);
  parser.resume();
  if (/unclosed root tag|unexpected end/i.test(what)) state.isCutOff = true;
  else if (state.isRootSeen && parser.line + 1 !== state.failedLine) {
    state.failedLine = parser.line + 1;
    sink.badRow("markup not well-formed", what, "", state.failedLine);
  }
}

function endDocument(state: State, cutOff: boolean, isEmpty: boolean): void {
  const { parser, sink, point, name } = state;
  if (cutOff || state.path.length > 0) state.isCutOff = true;
  const line = parser.line + 1;
  parser.close();
  if (!state.isRootSeen && !isEmpty) throw new InputError([notGpx(name, "something else")]);
  if (!state.isCutOff || !state.isRootSeen) return;
  sink.cutOff();
  if (point !== null) sink.badRow("cut off", "the file stops inside a track point", "", line);
}

/** XML says its encoding in its first line, if it is not UTF-8 or marked. */
function encodingOf(head: Buffer): Encoding {
  const look = sniffEncoding(head.subarray(0, 4096));
  if (look.because === "byte order mark" || look.because === "zero bytes") return look.encoding;
  const declared = /^\s*<\?xml[^>]*\sencoding\s*=\s*["']([^"']+)["']/.exec(head.subarray(0, 200).toString("latin1"))?.[1]?.toLowerCase();
  return declared === "iso-8859-1" || declared === "windows-1252" ? "windows-1252" : "utf-8";
}

function localName(tag: string): string {
  return tag.slice(tag.indexOf(":") + 1);
}

function withoutEnd(file: string, found: string, line: number): ProblemParts {
  return { code: "file-binary", what: "Markup in the GPX file has no end", file, line, expected: "tags, comments and declarations of ordinary length", found, mend: "export it again" };
}

function notGpx(file: string, found: string): ProblemParts {
  const mend = "give it the ending of what it is, or export it again";
  return { code: "file-binary", what: "The file is not GPX", file, expected: "GPX, as its name ends in .gpx", found, mend };
}
