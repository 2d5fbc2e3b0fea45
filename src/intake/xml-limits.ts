import sax from "sax";

/** No name, time or declaration is longer. */
export const LONGEST_TEXT = 1000;
/**
 * The parser looks at what it keeps once a piece, and writes a declaration (`<!…`) anew for every character of it: of a piece of 128 kB that takes
 * minutes.
 */
const WRITTEN_CHARACTERS = 8_192;
/** No element of a track or a sheet has more. The parser keeps all of them, and bounds only how long each is. Our own choice. */
const MOST_ATTRIBUTES = 100;
/** Deeper nesting is no track and no sheet, and would fill the memory. Our own choice. */
export const DEEPEST = 100;

/** A parser of XML and what to give it text with. */
export interface BoundedParser {
  readonly parser: sax.SAXParser;
  readonly write: (text: string) => void;
}

/**
 * A parser that keeps little, whatever it is given: `refuse` is called, and has to throw, where a tag has more attributes than any, or a declaration
 * does not end. What else has no end the parser reports itself: see {@link withoutEndIn}. `onattribute` and `onopentagstart` are taken; attributes are told by `watch`.
 */
export function makeBoundedParser(options: sax.SAXOptions, refuse: (found: string, line: number) => never, watch: (attribute: string) => void = () => undefined): BoundedParser {
  const parser = sax.parser(true, options);
  let attributes = 0;
  parser.onopentagstart = () => {
    attributes = 0;
  };
  parser.onattribute = ({ name }) => {
    attributes++;
    watch(name);
    if (attributes > MOST_ATTRIBUTES) refuse(`more than ${MOST_ATTRIBUTES} attributes in a tag`, parser.line + 1);
  };
  return {
    parser,
    write(text) {
      for (let at = 0; at < text.length; at += WRITTEN_CHARACTERS) {
        parser.write(text.slice(at, at + WRITTEN_CHARACTERS));
        if (declarationOf(parser).length > LONGEST_TEXT) refuse(`a declaration of more than ${LONGEST_TEXT} characters`, parser.line + 1);
      }
    },
  };
}

/** What has no end, if that is what the parser's error says: it keeps no more than 64 kB of anything. Null for other errors. */
export function withoutEndIn(error: Error): string | null {
  const buffer = /^Max buffer length exceeded: (\w+)/.exec(error.message)?.[1];
  return buffer === undefined ? null : `${kept[buffer] ?? "markup"} of more than 64 kB`;
}

/** What stands behind `<!` so far; its type does not say that the parser keeps it. */
function declarationOf(parser: sax.SAXParser): string {
  return "sgmlDecl" in parser && typeof parser.sgmlDecl === "string" ? parser.sgmlDecl : "";
}

/** What the parser keeps until its end has come. */
const kept: Readonly<Record<string, string>> = {
  comment: "a comment", doctype: "a document type (DTD)", sgmlDecl: "a declaration", tagName: "the name of a tag", attribName: "the name of an attribute", attribValue: "the value of an attribute",
  procInstName: "an instruction", procInstBody: "an instruction", entity: "a character by its name",
};
