import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { crc32, gunzipSync, inflateRawSync } from "node:zlib";
import type { DuckDBConnection } from "@duckdb/node-api";

/**
 * How many rows an export has, column names not counted, by another way than the readers' own; null where it is not plain enough to tell without being
 * one of them. `part`: the member, sheet or table in a holder of several.
 */
export async function rowsThere(bytes: Buffer, name: string, part: string | null): Promise<number | null> {
  const lower = name.toLowerCase();
  if (lower.endsWith(".zip")) {
    const member = part === null ? undefined : membersOf(bytes)?.get(part);
    return member === undefined || part === null ? null : rowsThere(member, part, null);
  }
  if (lower.endsWith(".gz")) {
    const inner = unpacked(() => gunzipSync(bytes));
    return inner === null ? null : rowsThere(inner, lower.slice(0, -3), null);
  }
  if (/\.(?:json|jsonl|ndjson)$/.test(lower)) return jsonRecords(bytes);
  if (lower.endsWith(".gpx")) return trackPoints(bytes);
  if (lower.endsWith(".parquet")) return parquetRows(bytes);
  if (lower.endsWith(".xlsx")) return part === null ? null : sheetRows(bytes, part);
  if (lower.endsWith(".db")) return part === null ? null : tableRows(bytes, part);
  return csvRows(bytes);
}

function unpacked(work: () => Buffer): Buffer | null {
  try {
    return work();
  } catch {
    return null;
  }
}

/** Text in UTF-8 without a mark; null for what may be another encoding. */
function plainText(bytes: Buffer): string | null {
  return bytes.includes(0) || /^(?:\xff\xfe|\xfe\xff)/.test(bytes.subarray(0, 2).toString("latin1")) ? null : bytes.toString("utf8").replace(/^\ufeff/, "");
}

/** A row a line, where no quotes and no long lines make rows of their own. */
function csvRows(bytes: Buffer): number | null {
  const text = plainText(bytes);
  if (text === null || text.includes('"')) return null;
  const lines = text.split(/\r\n|\n|\r/).filter((line) => line !== "");
  return lines.some((line) => line.length > 60_000) ? null : lines.length - 1;
}

const LONG = 60_000;

/** Records of a text that is JSON as a whole, or has a record a line. */
function jsonRecords(bytes: Buffer): number | null {
  const text = plainText(bytes)?.trim() ?? "";
  if (text === "" || text.includes("\ufffd")) return null;
  const whole = parsed(text);
  if (whole !== undefined) {
    // A record on its own, or the lists in it.
    return Array.isArray(whole) || /\[\s*\{/.test(text.slice(0, LONG)) ? listed(whole) : 1;
  }
  const lines = text.split("\n").map((line) => line.trim()).filter((line) => line !== "");
  const isRecord = (line: string): boolean => isObject(parsed(line));
  const [first = "", last = ""] = [lines[0], lines.at(-1)];
  // A first line that is broken does not show what the others are; a last one may be cut off, or not.
  if (lines.length < 2 || !isRecord(first) || !isRecord(last) || lines.some((line) => line.length > LONG)) return null;
  return lines.length;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** What stands in the lists of a value, in no record of a list. */
function listed(value: unknown): number {
  const sum = (all: readonly unknown[], of: (one: unknown) => number): number => all.reduce<number>((total, one) => total + of(one), 0);
  if (Array.isArray(value)) return sum(value, (one) => (Array.isArray(one) ? listed(one) : 1));
  return isObject(value) ? sum(Object.values(value), listed) : 0;
}

/** A piece of XML as nearly every program writes it, with white space as XML has it (1.0, production 3); what does not fit is not counted. */
const xmlPieces = /<\?[^<>?]{0,1000}\?>|<!--(?:(?!--)[^]){0,1000}-->|<!\[CDATA\[(?<raw>(?:(?!\]\]>)[^]){0,1000})\]\]>|<!DOCTYPE [^<>[\]]{0,100}(?:\[(?:[^<>[\]]|<!ENTITY [^<>]{0,100}>){0,1000}\])?[ \t\r\n]*>|<(?<close>\/?)(?<name>[A-Za-z][\w.-]{0,40})(?<attributes>(?:[ \t\r\n]+[A-Za-z_][\w:.-]{0,40}="[^"<&]{0,1000}")*)[ \t\r\n]*(?<alone>\/?)>|(?<text>(?:[^<&]|&(?:amp|lt|gt|quot|apos|#\d{1,5}|#x[\da-fA-F]{1,4});)+)/y;

interface XmlPiece {
  readonly kind: "open" | "close" | "text";
  /** The element's name, or the text. */
  readonly value: string;
  readonly attributes: Readonly<Record<string, string>>;
}

/** The elements and texts of plain XML, in order; null if it is not plain, or not well-formed. */
function xmlOf(bytes: Buffer): XmlPiece[] | null {
  const text = plainText(bytes);
  if (text === null || text.includes("\ufffd") || /&#(?:0|x0)/.test(text)) return null;
  const pieces: XmlPiece[] = [];
  const open: string[] = [];
  let roots = 0;
  for (let at = 0; at < text.length; at = xmlPieces.lastIndex) {
    xmlPieces.lastIndex = at;
    const found = xmlPieces.exec(text);
    if (found === null) return null;
    const { raw, close, name, attributes = "", alone, text: said } = found.groups as Record<string, string | undefined>;
    if (name === undefined) {
      const value = raw ?? said;
      if (value === undefined) {
        if (found[0].startsWith("<!DOCTYPE") && roots > 0) return null;
        if (found[0].startsWith("<?xml") && at > 0) return null;
      } else if (open.length > 0) pieces.push({ kind: "text", value, attributes: {} });
      else if (/[^ \t\r\n]/.test(value) || raw !== undefined) return null;
      continue;
    }
    if (close === "/") {
      if (open.pop() !== name || attributes !== "" || alone !== "") return null;
    } else {
      if (open.length === 0) roots++;
      const given = [...attributes.matchAll(/([\w:.-]+)="([^"]*)"/g)].map(([, key = "", value = ""]) => [key, value] as const);
      if (new Set(given.map(([key]) => key)).size < given.length) return null;
      pieces.push({ kind: "open", value: name, attributes: Object.fromEntries(given) });
      if (alone === "") open.push(name);
    }
    if (close === "/" || alone === "/") pieces.push({ kind: "close", value: name, attributes: {} });
  }
  return roots === 1 && open.length === 0 ? pieces : null;
}

/** Elements of a name that end; null where they stand in one another. */
function endsOf(pieces: readonly XmlPiece[], name: string): number | null {
  let [ends, depth] = [0, 0];
  for (const { kind, value } of pieces) {
    if (value !== name || kind === "text") continue;
    if (kind === "open") depth++;
    else {
      depth--;
      ends++;
    }
    if (depth > 1) return null;
  }
  return ends;
}

function trackPoints(bytes: Buffer): number | null {
  const pieces = xmlOf(bytes);
  return pieces === null ? null : endsOf(pieces, "trkpt");
}

/** The members of a zip archive by name (PKWARE's APPNOTE, from memory); null if any of it is not as it should be, or a name comes twice. */
function membersOf(bytes: Buffer): Map<string, Buffer> | null {
  const end = bytes.lastIndexOf("PK\u0005\u0006", undefined, "latin1");
  if (end < 0 || end + 22 !== bytes.length) return null;
  const members = new Map<string, Buffer>();
  const at = bytes.readUInt32LE(end + 16);
  const sized = (from: number, length: number): boolean => from + length <= bytes.length;
  for (let i = 0, next = at; i < bytes.readUInt16LE(end + 10); i++) {
    if (!sized(next, 46) || bytes.toString("latin1", next, next + 4) !== "PK\u0001\u0002") return null;
    const [method, crc, packed, size] = [bytes.readUInt16LE(next + 10), bytes.readUInt32LE(next + 16), bytes.readUInt32LE(next + 20), bytes.readUInt32LE(next + 24)];
    const [nameLength, extra, comment, local] = [bytes.readUInt16LE(next + 28), bytes.readUInt16LE(next + 30), bytes.readUInt16LE(next + 32), bytes.readUInt32LE(next + 42)];
    if (extra > 0 || comment > 0 || !sized(next + 46, nameLength) || !sized(local, 30)) return null;
    const name = bytes.toString("utf8", next + 46, next + 46 + nameLength);
    const from = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    const data = bytes.subarray(from, from + packed);
    const content = method === 0 ? data : method === 8 ? unpacked(() => inflateRawSync(data)) : null;
    if (content?.length !== size || crc32(content) !== crc || members.has(name)) return null;
    members.set(name, content);
    next += 46 + nameLength;
  }
  return members;
}

/** Rows with a value, behind the first with two. */
function sheetRows(bytes: Buffer, sheet: string): number | null {
  const members = membersOf(bytes);
  const id = new RegExp(`<sheet name="${sheet}" sheetId="\\d+" r:id="(rId\\d+)"/>`).exec(members?.get("xl/workbook.xml")?.toString() ?? "")?.[1] ?? "";
  const target = new RegExp(`<Relationship Id="${id}" Type="[^"]*/worksheet" Target="(worksheets/sheet\\d+\\.xml)"/>`).exec(members?.get("xl/_rels/workbook.xml.rels")?.toString() ?? "")?.[1] ?? "";
  const pieces = xmlOf(members?.get(`xl/${target}`) ?? Buffer.alloc(0));
  if (pieces === null || endsOf(pieces, "row") === null || endsOf(pieces, "c") === null) return null;
  const texts = textsOf(members?.get("xl/sharedStrings.xml") ?? Buffer.from("<sst/>"));
  const rows: string[][] = [];
  let within: string[] = [];
  let type = "n";
  const taken = new Set<string>();
  for (const { kind, value, attributes } of pieces) {
    if (kind === "open") {
      within.push(value);
      if (value === "row") {
        rows.push([]);
        taken.clear();
      } else if (value === "c") {
        const { r = "" } = attributes;
        if (within.at(-2) !== "row" || !/^[A-Z]\d{1,6}$/.test(r) || taken.has(r.replace(/\d/g, ""))) return null;
        taken.add(r.replace(/\d/g, ""));
        rows.at(-1)?.push("");
        type = attributes["t"] ?? "n";
        if (!["s", "inlineStr", "n", "b"].includes(type)) return null;
      } else if (!["worksheet", "sheetData", "v", "is", "t"].includes(value)) return null;
    } else if (kind === "close") within = within.slice(0, -1);
    else if (value.trim() !== "") {
      const inner = within.slice(within.lastIndexOf("c")).join(">");
      if (!["c>v", "c>is>t"].includes(inner)) {
        if (within.includes("c")) return null;
        continue;
      }
      // An inline text stands in `is`, anything else in `v`; the number of a text that there is not makes its row a broken one.
      if ((type === "inlineStr") !== (inner === "c>is>t")) continue;
      const said = type === "s" ? texts[Number(value)] : value;
      if (said === undefined) return null;
      rows.at(-1)?.splice(-1, 1, said.trim());
    }
  }
  const values = rows.map((cells) => cells.filter((cell) => cell !== "").length);
  const header = values.findIndex((count) => count > 1);
  return header < 0 ? null : values.slice(header + 1).filter((count) => count > 0).length;
}

/** The texts that cells name by number. */
function textsOf(bytes: Buffer): string[] {
  const texts: string[] = [];
  const within: string[] = [];
  for (const { kind, value } of xmlOf(bytes) ?? []) {
    if (kind === "open") within.push(value);
    if (kind === "open" && value === "si") texts.push("");
    if (kind === "close") within.pop();
    if (kind === "text" && within.join(">") === "sst>si>t") texts.push((texts.pop() ?? "") + value);
  }
  return texts;
}

let duck: Promise<DuckDBConnection> | null = null;

/** What another library, that is written in another language, finds in the table of contents. */
async function parquetRows(bytes: Buffer): Promise<number | null> {
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-count-"));
  const path = join(folder, "a.parquet");
  await writeFile(path, bytes);
  // Loaded when it is needed, as it is large.
  duck ??= import("@duckdb/node-api").then(async (library) => (await library.DuckDBInstance.create(":memory:", { threads: "1" })).connect());
  try {
    const [[rows] = []] = (await (await duck).runAndReadAll(`select num_rows from parquet_file_metadata('${path}')`)).getRows();
    return rows === undefined ? null : Number(rows);
  } catch {
    return null;
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** The cells of the leaves of a table's tree (SQLite's description of its file format, from memory); null for a view, or where a page is not as it should be. */
function tableRows(bytes: Buffer, table: string): number | null {
  const pageBytes = bytes.length > 100 ? bytes.readUInt16BE(16) : 0;
  if (pageBytes < 512 || bytes.length % pageBytes !== 0) return null;
  const root = rootOf(bytes.subarray(0, pageBytes), table);
  const seen = new Set<number>();
  const rowsOf = (page: number): number | null => {
    const from = (page - 1) * pageBytes;
    if (page < 2 || from >= bytes.length || seen.has(page)) return null;
    seen.add(page);
    const cells = bytes.readUInt16BE(from + 3);
    const kind = bytes[from];
    if (kind === 13) return cells;
    if (kind !== 5 || 12 + 2 * cells > pageBytes) return null;
    let sum: number | null = 0;
    for (let i = 0; i <= cells && sum !== null; i++) {
      const at = i === cells ? from + 8 : from + bytes.readUInt16BE(from + 12 + 2 * i);
      const rows = at + 4 > bytes.length ? null : rowsOf(bytes.readUInt32BE(at));
      sum = rows === null ? null : sum + rows;
    }
    return sum;
  };
  return root === null ? null : rowsOf(root);
}

/** The first page of a table, as its line in the first page of all says: type, name, table, root page, text; null if that is not plain. */
function rootOf(page: Buffer, table: string): number | null {
  // A record with the text `table`, the name twice, and a root of one byte: its header says their lengths.
  const [name, type] = [Buffer.from(table), Buffer.from("table")];
  const at = page.indexOf(Buffer.concat([type, name, name]));
  if (at < 0 || page[100] !== 13 || at !== page.lastIndexOf(Buffer.concat([type, name, name]))) return null;
  return page[at + type.length + 2 * name.length] ?? null;
}
