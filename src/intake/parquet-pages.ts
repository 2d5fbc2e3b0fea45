import type { AsyncBuffer, FileMetaData } from "hyparquet";
import { parquetHeader } from "hyparquet/src/column.js";

/** Writers put some ten thousand values into a page, or all of a group of a million rows; each takes eight bytes and more. Our own choice. */
export const MOST_PAGE_VALUES = 20_000_000;
/** A page's header takes some fifty bytes, more with the least and the largest value in it. */
const WINDOW_BYTES = 16_384;
const USUAL_HEADER_BYTES = 2_048;

/** What is wrong with a page, or with the place of a column, before anything is unpacked. */
export interface PageFault {
  readonly found: string;
  /** The limit that is not kept; null where the file contradicts itself. */
  readonly expected: string | null;
}

/**
 * Looks at the headers of all pages of the named top-level columns: how many values they claim to hold decides what is set aside for them, so that a
 * flipped byte could take all memory. Null if nothing is wrong; a header that cannot be read is left to the reader, who says what is wrong with it.
 */
export async function faultOfPages(file: AsyncBuffer, metadata: FileMetaData, names: readonly string[]): Promise<PageFault | null> {
  for (const { columns } of metadata.row_groups) {
    const chunks = columns.flatMap(({ meta_data: meta }) => (meta !== undefined && names.includes(meta.path_in_schema[0] ?? "") ? [meta] : []));
    if (chunks.reduce((sum, { total_compressed_size: bytes }) => sum + Number(bytes), 0) > file.byteLength) return { found: "columns that say they take more bytes than the file has", expected: null };
    for (const meta of chunks) {
      const start = Number(meta.dictionary_page_offset || meta.data_page_offset);
      const fault = await faultOfChunk(file, start, Math.min(file.byteLength, start + Number(meta.total_compressed_size)));
      if (fault !== null) return fault;
    }
  }
  return null;
}

async function faultOfChunk(file: AsyncBuffer, start: number, end: number): Promise<PageFault | null> {
  let window = { start: 0, bytes: new ArrayBuffer(0) };
  for (let at = start; at >= 0 && at < end - 1; ) {
    const isIn = at >= window.start && Math.min(at + USUAL_HEADER_BYTES, end) <= window.start + window.bytes.byteLength;
    if (!isIn) window = { start: at, bytes: await file.slice(at, Math.min(at + WINDOW_BYTES, end)) };
    let header = headerAt(window.bytes, at - window.start);
    // The least and the largest value may be long texts.
    if (header === null && window.start + window.bytes.byteLength < end) {
      window = { start: at, bytes: await file.slice(at, end) };
      header = headerAt(window.bytes, 0);
    }
    if (header === null) return null;
    if (header.values > MOST_PAGE_VALUES) return { found: `a page that says it holds ${header.values.toLocaleString("en-GB")} values`, expected: `a Parquet file with at most ${MOST_PAGE_VALUES.toLocaleString("en-GB")} values in a page` };
    if (header.values < 0 || header.nulls < 0 || header.nulls > header.values) return { found: `a page of ${header.values} values, ${header.nulls} of them null`, expected: null };
    if (!(header.bytes >= 0)) return { found: `a page of ${header.bytes} bytes`, expected: null };
    at = window.start + header.end + header.bytes;
  }
  return null;
}

interface PageHeader {
  readonly values: number;
  readonly nulls: number;
  readonly bytes: number;
  /** Where the page's data begin. */
  readonly end: number;
}

/** The header of a page; null if there is none. */
function headerAt(bytes: ArrayBuffer, offset: number): PageHeader | null {
  const reader = { view: new DataView(bytes), offset };
  try {
    const header = parquetHeader(reader);
    const of = header.data_page_header_v2 ?? header.data_page_header ?? header.dictionary_page_header;
    return { values: of?.num_values ?? 0, nulls: header.data_page_header_v2?.num_nulls ?? 0, bytes: header.compressed_page_size, end: reader.offset };
  } catch {
    return null;
  }
}
