import { DEEPEST, makeBoundedParser, withoutEndIn } from "./xml-limits.js";

/** What to call for the elements of an XML text, by names without their prefix. */
export interface TagWatch {
  readonly open: (name: string, attributes: Readonly<Record<string, string>>) => void;
  /** Text inside elements; long text may come in pieces. */
  readonly text?: (text: string) => void;
  readonly close?: (name: string) => void;
}

/** Takes an XML text in pieces of UTF-8; throws an `Error` that says what is not well-formed. */
export interface TagReader {
  readonly push: (chunk: Uint8Array) => void;
  readonly end: () => void;
}

/**
 * Reads XML as parts of spreadsheets are written in. Spaces are kept as they are; what is not well-formed ends the reading, and so does markup that has no
 * end: see xml-limits.ts.
 */
export function makeTagReader({ open, text, close }: TagWatch): TagReader {
  const { parser, write } = makeBoundedParser({ trim: false, normalize: false, xmlns: false }, (found) => {
    throw new Error(found);
  });
  const decoder = new TextDecoder("utf-8");
  const plain = (name: string): string => name.slice(name.indexOf(":") + 1);
  let depth = 0;
  parser.onopentag = ({ name, attributes }) => {
    depth++;
    if (depth > DEEPEST) throw new Error("elements inside one another without end");
    // Attributes are texts: the parser does not look at name spaces.
    open(plain(name), attributes as Readonly<Record<string, string>>);
  };
  if (text !== undefined) {
    parser.ontext = text;
    parser.oncdata = text;
  }
  parser.onclosetag = (name) => {
    depth--;
    close?.(plain(name));
  };
  parser.onerror = (error) => {
    throw new Error(withoutEndIn(error) ?? error.message);
  };
  return {
    push: (chunk) => {
      write(decoder.decode(chunk, { stream: true }));
    },
    end: () => void parser.close(),
  };
}
