import { open } from "node:fs/promises";
import { posix } from "node:path";
import { InputError } from "../ground/problem.js";
import type { InputFile } from "./input-file.js";
import { datePartsOf, type DateParts } from "./sheet-cells.js";
import { makeTagReader, type TagReader, type TagWatch } from "./xml-tags.js";
import { memberChunks, zipMembers, type ZipMember } from "./zip-archive.js";

/** Texts that a spreadsheet keeps apart from its cells are held in memory: more characters are refused. Our own choice. */
const MOST_CHARACTERS = 50_000_000;

/** A sheet of a spreadsheet, and where in the archive it stands. */
export interface Sheet {
  readonly name: string;
  readonly member: string;
  readonly packedBytes: number;
}

/** What the cells of all sheets are read with. */
export interface Workbook {
  readonly sheets: readonly Sheet[];
  /** Days are counted from 1904. */
  readonly is1904: boolean;
  /** What the formats of dates show, by the number of a cell's style. */
  readonly styles: readonly (DateParts | null)[];
  /** Texts that cells name by their number. */
  readonly texts: readonly string[];
}

type File = Pick<InputFile, "path" | "name">;

/** The sheets of a spreadsheet in their order, hidden ones too; charts are none. Throws `InputError` for what is no spreadsheet. */
export async function sheetsOf(file: File): Promise<readonly Sheet[]> {
  return (await contentsOf(file)).sheets;
}

/** What is needed to read a sheet. Throws `InputError` for what is no spreadsheet, or one that holds too much text. */
export async function openWorkbook(file: File): Promise<Workbook> {
  const { sheets, is1904, related, members } = await contentsOf(file);
  const memberOf = (kind: string): string | null => [...related.values()].find(({ type, member }) => type.endsWith(`/${kind}`) && members.has(member))?.member ?? null;
  const [styles, texts] = [memberOf("styles"), memberOf("sharedStrings")];
  return { sheets, is1904, styles: styles === null ? [] : await stylesIn(file, styles), texts: texts === null ? [] : await textsIn(file, texts) };
}

interface Contents {
  readonly sheets: readonly Sheet[];
  readonly is1904: boolean;
  readonly related: ReadonlyMap<string, Related>;
  readonly members: ReadonlyMap<string, ZipMember>;
}

interface Related {
  readonly type: string;
  readonly member: string;
}

async function contentsOf(file: File): Promise<Contents> {
  if (await isLocked(file)) throw notWorkbook(file.name, "one with a password, or an old one under a new name");
  const members = new Map((await zipMembers(file)).map((member) => [member.name, member]));
  const book = "xl/workbook.xml";
  if (!members.has(book)) throw notWorkbook(file.name, "an archive without xl/workbook.xml");
  const related = await relatedTo(file, book, members);
  const sheets: Sheet[] = [];
  let is1904 = false;
  await readMember(file, book, {
    open(name, attributes) {
      if (name === "workbookPr") is1904 = ["1", "true"].includes(attributes["date1904"] ?? "");
      if (name !== "sheet") return;
      const target = related.get(Object.entries(attributes).find(([key]) => /(?:^|:)id$/.test(key))?.[1] ?? "");
      const member = target === undefined || !target.type.endsWith("/worksheet") ? undefined : members.get(target.member);
      if (member !== undefined) sheets.push({ name: attributes["name"] ?? "", member: member.name, packedBytes: member.packedBytes });
    },
  });
  if (sheets.length === 0) throw notWorkbook(file.name, "no sheet with cells");
  return { sheets, is1904, related, members };
}

/** Whether a file begins as old spreadsheets do, and those that are locked with a password. */
async function isLocked({ path }: File): Promise<boolean> {
  const handle = await open(path);
  try {
    const head = Buffer.alloc(4);
    await handle.read(head, 0, head.length, 0);
    return head.toString("hex") === "d0cf11e0";
  } finally {
    await handle.close();
  }
}

/** What the workbook names by a number of its own. */
async function relatedTo(file: File, book: string, members: ReadonlyMap<string, ZipMember>): Promise<Map<string, Related>> {
  const list = "xl/_rels/workbook.xml.rels";
  if (!members.has(list)) throw notWorkbook(file.name, `an archive without ${list}`);
  const related = new Map<string, Related>();
  await readMember(file, list, {
    open(name, { Id = "", Type = "", Target = "" }) {
      if (name === "Relationship") related.set(Id, { type: Type, member: Target.startsWith("/") ? Target.slice(1) : posix.join(posix.dirname(book), Target) });
    },
  });
  return related;
}

async function stylesIn(file: File, member: string): Promise<(DateParts | null)[]> {
  const codes = new Map<number, string>();
  const ids: number[] = [];
  let isOfCells = false;
  await readMember(file, member, {
    open(name, attributes) {
      if (name === "numFmt") codes.set(Number(attributes["numFmtId"]), attributes["formatCode"] ?? "");
      else if (name === "cellXfs") isOfCells = true;
      else if (name === "xf" && isOfCells) ids.push(Number(attributes["numFmtId"] ?? 0));
    },
    close(name) {
      if (name === "cellXfs") isOfCells = false;
    },
  });
  return ids.map((id) => datePartsOf(id, codes.get(id)));
}

async function textsIn(file: File, member: string): Promise<string[]> {
  const texts: string[] = [];
  let characters = 0;
  const within = makeTextGathering();
  await readMember(file, member, {
    open(name) {
      if (name === "si") within.begin();
      else within.open(name);
    },
    text(text) {
      characters += text.length;
      if (characters > MOST_CHARACTERS) throw tooMuchText(file.name);
      within.add(text);
    },
    close(name) {
      if (name === "si") texts.push(within.text());
      else within.close(name);
    },
  });
  return texts;
}

/** Puts the pieces of a rich text together; readings that stand above it for pronunciation are left out. */
export function makeTextGathering() {
  let [text, isText, above] = ["", false, 0];
  return {
    begin: (): void => void ([text, isText, above] = ["", false, 0]),
    open(name: string): void {
      if (name === "rPh") above++;
      else if (name === "t") isText = above === 0;
    },
    add(piece: string): void {
      if (isText) text += piece;
    },
    close(name: string): void {
      if (name === "rPh") above--;
      else if (name === "t") isText = false;
    },
    text: (): string => text,
  };
}

async function readMember(file: File, member: string, watch: TagWatch): Promise<void> {
  const reader = makeTagReader(watch);
  for await (const chunk of memberChunks(file, member, () => undefined)) pushTags(file.name, member, reader, chunk);
  pushTags(file.name, member, reader, null);
}

/** Gives a reader the next piece, or (null) the end. Throws `InputError` for what is not well-formed. */
export function pushTags(file: string, member: string, reader: TagReader, chunk: Uint8Array | null): void {
  try {
    if (chunk === null) reader.end();
    else reader.push(chunk);
  } catch (error) {
    if (error instanceof InputError || !(error instanceof Error)) throw error;
    throw notWorkbook(file, `${member} that is not well-formed (${error.message.split("\n", 1).join().slice(0, 100)})`);
  }
}

function notWorkbook(file: string, found: string): InputError {
  return new InputError([{ code: "file-binary", what: "The spreadsheet cannot be read", file, expected: "a whole spreadsheet, as its name ends in .xlsx or .xlsm", found, mend: "save it again as .xlsx, or as CSV" }]);
}

function tooMuchText(file: string): InputError {
  const expected = `at most ${MOST_CHARACTERS.toLocaleString("en-GB")} characters in cells`;
  return new InputError([{ code: "file-binary", what: "The spreadsheet holds too much text", file, expected, found: "more", mend: "save its sheets as CSV" }]);
}
