/** A longer record is no record of sensor readings: it is set aside, so that memory stays bounded. Our own choice. */
export const LONGEST_RECORD = 65_536;

/** Where the pieces of a text of JSON records go. Lines are counted from 1. */
export interface RecordSink {
  /** The text of one whole record, `{` to `}`. */
  readonly record: (text: string, line: number) => void;
  /** Something that stands where records do and is none, or never ends in good time. */
  readonly other: (text: string, line: number) => void;
}

/** Takes a text in pieces of any length; `end` says whether it stopped inside a record or before its list was closed. */
export interface RecordSplitter {
  readonly push: (text: string) => void;
  readonly end: () => { readonly isCutOff: boolean };
}

/**
 * Cuts JSON text into records: a line each (JSON lines), or the objects of a list, which may itself be inside others, as in
 * `[ {…}, … ]` and `{ "rows": [ {…}, … ] }`. `head` is the beginning of the text, which decides.
 */
export function makeRecordSplitter(head: string, sink: RecordSink): RecordSplitter {
  return isOneALine(head) ? splitLines(sink) : splitList(!head.trimStart().startsWith("[") && !LIST_OF_RECORDS.test(head), sink);
}

const LIST_OF_RECORDS = /\[\s*\{/;

/** Whether every record has a line to itself: the first line is a record, and no list of records. */
function isOneALine(head: string): boolean {
  const text = head.trimStart();
  const lineEnd = text.search(/[\r\n]/);
  if (!text.startsWith("{")) return !text.startsWith("[");
  if (lineEnd < 0) return !LIST_OF_RECORDS.test(text);
  try {
    const first: unknown = JSON.parse(text.slice(0, lineEnd));
    return typeof first === "object" && (text.slice(lineEnd).trim() !== "" || !LIST_OF_RECORDS.test(text.slice(0, lineEnd)));
  } catch {
    // The second line shows whether the first alone is broken, or one record goes over many lines.
    return /^\s*\{.*\}\s*$/.test(text.slice(lineEnd).trimStart().split(/[\r\n]/)[0] ?? "");
  }
}

function splitLines({ record, other }: RecordSink): RecordSplitter {
  let rest = "";
  let line = 1;
  let skipping = false;
  const give = (text: string): void => {
    const bare = text.trim();
    if (bare === "" || skipping) return;
    (bare.startsWith("{") && bare.length <= LONGEST_RECORD ? record : other)(bare, line);
  };
  return {
    push(text) {
      const lines = (rest + text).split("\n");
      rest = lines.pop() ?? "";
      for (const one of lines) {
        give(one);
        skipping = false;
        line++;
      }
      if (rest.length <= LONGEST_RECORD) return;
      give(rest);
      skipping = true;
      rest = "";
    },
    end() {
      const isCutOff = rest.trim().startsWith("{") && !rest.trimEnd().endsWith("}");
      if (!isCutOff) give(rest);
      return { isCutOff };
    },
  };
}

/** How far a list of records has been read. */
interface State {
  /** What is not behind us yet: the record at hand, and what follows. */
  text: string;
  at: number;
  /** `{` and `[` that are open, outermost first. */
  open: string[];
  isInText: boolean;
  line: number;
  /** Where the record at hand begins in `text`; -1 outside of one. */
  start: number;
  startLine: number;
  startDepth: number;
  /** Where something else that stands in the list begins; -1 if nothing does. */
  stray: number;
}

/** `isBare`: the records stand one after the other, in no list. */
function splitList(isBare: boolean, sink: RecordSink): RecordSplitter {
  const state: State = { text: "", at: 0, open: [], isInText: false, line: 1, start: -1, startLine: 1, startDepth: 0, stray: -1 };
  const scan = (): void => {
    while (state.at < state.text.length) {
      takeCharacter(state, isBare, sink);
      state.at++;
    }
  };
  return {
    push(text) {
      state.text += text;
      scan();
      while (state.start >= 0 && state.text.length - state.start > LONGEST_RECORD) {
        giveUp(state, sink);
        scan();
      }
      const kept = Math.min(...[state.start, state.stray, state.at].filter((place) => place >= 0));
      state.text = state.text.slice(kept);
      state.at -= kept;
      if (state.start >= 0) state.start -= kept;
      if (state.stray >= 0) state.stray -= kept;
    },
    end() {
      giveStray(state, sink);
      // A record without its end, and others behind it: only its own line is lost.
      while (state.start >= 0 && /\n\s*\{/.test(state.text.slice(state.start))) {
        giveUp(state, sink);
        scan();
      }
      return { isCutOff: state.start >= 0 || state.open.length > 0 };
    },
  };
}

function takeCharacter(state: State, isBare: boolean, sink: RecordSink): void {
  const { text, at, open } = state;
  const character = text.charAt(at);
  if (character === "\n") state.line++;
  if (state.isInText) {
    if (character === "\\") state.at++;
    else if (character === '"') state.isInText = false;
    return;
  }
  const inList = state.start < 0 && open.at(-1) === "[";
  if (character === '"') state.isInText = true;
  else if (character === "{" || character === "[") {
    if (character === "{" && (inList || (isBare && open.length === 0))) {
      state.start = at;
      state.startLine = state.line;
      state.startDepth = open.length;
    }
    open.push(character);
    return;
  } else if (character === "}" || character === "]") {
    if (open.at(-1) !== (character === "}" ? "{" : "[")) {
      // A bracket that closes nothing: the record it stands in is broken; outside of one it stands for itself.
      if (state.start >= 0) {
        giveUp(state, sink);
        state.at--;
      } else if (state.stray < 0) state.stray = at;
      return;
    }
    if (inList) giveStray(state, sink);
    open.pop();
    if (state.start >= 0 && open.length <= state.startDepth) giveRecord(state, sink);
    return;
  } else if (character === "," || /\s/.test(character)) {
    if (inList && character === ",") giveStray(state, sink);
    return;
  }
  if (inList && state.stray < 0) state.stray = at;
}

function giveRecord(state: State, sink: RecordSink): void {
  const text = state.text.slice(state.start, state.at + 1);
  (text.length > LONGEST_RECORD ? sink.other : sink.record)(text, state.startLine);
  state.start = -1;
}

function giveStray(state: State, sink: RecordSink): void {
  if (state.stray < 0) return;
  sink.other(state.text.slice(state.stray, state.at).trim(), state.line);
  state.stray = -1;
}

/** A record that does not end: reading goes on with the line behind its first, or its second character where there is none. */
function giveUp(state: State, sink: RecordSink): void {
  const lineEnd = state.text.indexOf("\n", state.start);
  const next = lineEnd < 0 ? state.start + 1 : lineEnd + 1;
  sink.other(state.text.slice(state.start, next).trim(), state.startLine);
  state.open = state.open.slice(0, state.startDepth);
  state.isInText = false;
  state.line = state.startLine + (lineEnd < 0 ? 0 : 1);
  state.at = next;
  state.start = -1;
}
