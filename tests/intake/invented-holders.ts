import { crc32, deflateRawSync } from "node:zlib";

/** A member of a zip archive; whatever is said in its stead is written into the archive although it is not so. */
export interface Member {
  readonly content: string | Uint8Array;
  readonly stored?: boolean;
  readonly method?: number;
  readonly flags?: number;
  readonly crc?: number;
  readonly saidBytes?: number;
}

/** A zip archive (PKWARE's APPNOTE, from memory) of these members, in order. Pairs rather than a mapping: a name may come twice. */
export function zipOf(members: readonly (readonly [string, Member | string | Uint8Array])[]): Buffer {
  const parts: Buffer[] = [];
  const contents: Buffer[] = [];
  let at = 0;
  for (const [name, given] of members) {
    const member: Member = typeof given === "string" || given instanceof Uint8Array ? { content: given } : given;
    const raw = Buffer.from(member.content);
    const packed = member.stored === true ? raw : deflateRawSync(raw);
    const shared = Buffer.alloc(26);
    shared.writeUInt16LE(20, 0);
    shared.writeUInt16LE(0x800 | (member.flags ?? 0), 2);
    shared.writeUInt16LE(member.method ?? (member.stored === true ? 0 : 8), 4);
    shared.writeUInt32LE(member.crc ?? crc32(raw), 10);
    shared.writeUInt32LE(packed.length, 14);
    shared.writeUInt32LE(member.saidBytes ?? raw.length, 18);
    shared.writeUInt16LE(Buffer.byteLength(name), 22);
    const offset = Buffer.alloc(4);
    offset.writeUInt32LE(at);
    const local = Buffer.concat([Buffer.from("PK\u0003\u0004", "latin1"), shared, Buffer.from(name), packed]);
    contents.push(Buffer.concat([Buffer.from("PK\u0001\u0002\u0014\u0000", "latin1"), shared, Buffer.alloc(10), offset, Buffer.from(name)]));
    parts.push(local);
    at += local.length;
  }
  const table = Buffer.concat(contents);
  const end = Buffer.alloc(22);
  end.write("PK\u0005\u0006", "latin1");
  end.writeUInt16LE(members.length, 8);
  end.writeUInt16LE(members.length, 10);
  end.writeUInt32LE(table.length, 12);
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...parts, table, end]);
}

/** A cell of an invented sheet: a text, a number, yes or no, nothing; or a number shown as a date; or raw XML. */
export type SheetCell = string | number | boolean | null | { readonly days: number; readonly as: "date" | "time" | "both" } | { readonly xml: string };

const formats = { date: 1, time: 2, both: 3 } as const;

/** A spreadsheet of these sheets (the parts of ECMA-376 that every program writes). A null row is not written, as an empty one in a sheet. */
export function spreadsheetOf(sheets: Readonly<Record<string, readonly (readonly SheetCell[] | null)[]>>, is1904 = false): Buffer {
  const texts: string[] = [];
  const bodies = Object.values(sheets).map((rows) => `<worksheet xmlns="urn:s"><sheetData>${rows.map((row, i) => (row === null ? "" : rowXml(row, i + 1, texts))).join("")}</sheetData></worksheet>`);
  const names = Object.keys(sheets);
  const type = (kind: string): string => `http://schemas.openxmlformats.org/officeDocument/2006/relationships/${kind}`;
  return zipOf([
    ["[Content_Types].xml", "<Types/>"],
    ["xl/workbook.xml", `<workbook xmlns:r="urn:r"><workbookPr${is1904 ? ' date1904="1"' : ""}/><sheets>${names.map((name, i) => `<sheet name="${escaped(name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`).join("")}</sheets></workbook>`],
    [
      "xl/_rels/workbook.xml.rels",
      `<Relationships>${names.map((_, i) => `<Relationship Id="rId${i + 1}" Type="${type("worksheet")}" Target="worksheets/sheet${i + 1}.xml"/>`).join("")}<Relationship Id="s" Type="${type("styles")}" Target="/xl/styles.xml"/><Relationship Id="t" Type="${type("sharedStrings")}" Target="sharedStrings.xml"/></Relationships>`,
    ],
    ["xl/styles.xml", '<styleSheet><numFmts><numFmt numFmtId="164" formatCode="dd/mm/yyyy\\ hh:mm:ss"/></numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="21"/><xf numFmtId="164"/></cellXfs></styleSheet>'],
    ["xl/sharedStrings.xml", `<sst>${texts.map((text) => `<si><t xml:space="preserve">${escaped(text)}</t><rPh sb="0" eb="1"><t>above</t></rPh></si>`).join("")}</sst>`],
    ...bodies.map((body, i) => [`xl/worksheets/sheet${i + 1}.xml`, body] as const),
  ]);
}

function rowXml(row: readonly SheetCell[], line: number, texts: string[]): string {
  const cells = row.map((cell, i) => {
    const at = `r="${String.fromCharCode(65 + i)}${line}"`;
    if (cell === null) return "";
    if (typeof cell === "number") return `<c ${at}><v>${cell}</v></c>`;
    if (typeof cell === "boolean") return `<c ${at} t="b"><v>${Number(cell)}</v></c>`;
    if (typeof cell !== "string") return "xml" in cell ? cell.xml.replace("AT", at) : `<c ${at} s="${formats[cell.as]}"><v>${cell.days}</v></c>`;
    texts.push(cell);
    return `<c ${at} t="s"><v>${texts.length - 1}</v></c>`;
  });
  return `<row r="${line}">${cells.join("")}</row>`;
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}

/** Days as spreadsheets count them, of an instant written in ISO 8601 without a zone. */
export function daysOf(stamp: string): number {
  return (Date.parse(`${stamp}Z`) - Date.UTC(1899, 11, 30)) / 86_400_000;
}

/** As much of the package sql.js as makes databases. */
interface SqlJs {
  readonly default: () => Promise<{ readonly Database: new () => { run: (sql: string) => void; export: () => Uint8Array } }>;
}

/** An SQLite file in which these statements were run. */
export async function databaseOf(...statements: readonly string[]): Promise<Buffer> {
  const name: string = "sql.js";
  const { Database } = await ((await import(name)) as SqlJs).default();
  const database = new Database();
  for (const statement of statements) database.run(statement);
  return Buffer.from(database.export());
}
