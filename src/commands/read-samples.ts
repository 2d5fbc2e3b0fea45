import type { ColumnSample } from "../draft/column-sample.js";
import type { Sample } from "../draft/sample.js";
import { exportForm, fileChunks, findFiles, type InputFile } from "../intake/files.js";
import { InputError, type ProblemParts } from "../problem.js";

/** A file up to this size is looked at whole; of a larger one as much is kept. Our own choice. */
const MOST_BYTES_A_FILE = 8_000_000;
/** All files together: their rows are held in memory. Our own choice. */
const MOST_BYTES = 40_000_000;
/** Even of very many files as much is kept of each. */
const FEWEST_BYTES_A_FILE = 600_000;

/**
 * Reads exports for a first look: whole up to a bound, else the head, the tail and evenly spaced parts between.
 * `names` are paths or globs relative to `folder`. Throws `InputError` with every file that cannot be read.
 */
export async function readSamples(names: readonly string[], folder: string, onProgress: (file: string) => void): Promise<(Sample | ColumnSample)[]> {
  const problems: ProblemParts[] = [];
  const files = await findFiles(names, folder, "the draft", problems, "on the command line");
  const bound = Math.max(FEWEST_BYTES_A_FILE, Math.min(MOST_BYTES_A_FILE, Math.floor(MOST_BYTES / Math.max(1, files.length))));
  const samples: (Sample | ColumnSample)[] = [];
  for (const file of files) {
    onProgress(file.name);
    try {
      samples.push(await sampleOf(file, bound));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problems.push(...error.problems);
    }
  }
  if (problems.length > 0) throw new InputError(problems);
  return samples;
}

async function sampleOf(file: InputFile, bound: number): Promise<Sample | ColumnSample> {
  const form = exportForm(file.name);
  if (form === "parquet") return (await import("./sample-parquet.js")).sampleParquet(file, bound);
  if (form === "gpx") return (await import("./sample-gpx.js")).sampleGpx(file, bound);
  const cuts: string[] = [];
  const sample = await thinned(file.name, fileChunks(file, { onCutOff: () => void cuts.push(file.name) }), bound);
  return cuts.length > 0 ? { ...sample, cutOff: true } : sample;
}

/**
 * Keeps the first and the last two chunks, and of those between every `stride`-th, where the stride doubles whenever more
 * is kept than the bound allows: the length of a packed file is not known before its end.
 */
export async function thinned(name: string, chunks: AsyncIterable<Uint8Array>, bound: number): Promise<Sample> {
  const kept: { readonly at: number; readonly bytes: Uint8Array }[] = [];
  let [bytes, keptBytes, stride, at] = [0, 0, 1, 0];
  // The last chunk alone may hold less than a row.
  let tail: { readonly at: number; readonly bytes: Uint8Array }[] = [];
  for await (const chunk of chunks) {
    bytes += chunk.length;
    // Copied: whoever reads the file may use the chunk's memory again.
    const copy = { at, bytes: Uint8Array.from(chunk) };
    tail = [...tail.slice(-1), copy];
    if (at % stride === 0) {
      kept.push(copy);
      keptBytes += chunk.length;
    }
    while (keptBytes > bound && kept.length > 2) {
      stride *= 2;
      for (let i = kept.length - 1; i > 0; i--) {
        if (kept[i]!.at % stride === 0) continue;
        keptBytes -= kept[i]!.bytes.length;
        kept.splice(i, 1);
      }
    }
    at++;
  }
  for (const chunk of tail) if (!kept.some(({ at: place }) => place === chunk.at)) kept.push(chunk);
  kept.sort((a, b) => a.at - b.at);
  // Neighbouring chunks are one piece: no row between them is cut.
  const pieces: Uint8Array[][] = [];
  kept.forEach((chunk, i) => {
    if (i > 0 && kept[i - 1]!.at === chunk.at - 1) pieces.at(-1)!.push(chunk.bytes);
    else pieces.push([chunk.bytes]);
  });
  return { name, bytes, pieces: pieces.map((parts) => Buffer.concat(parts)), whole: stride === 1 };
}
