import type { ColumnSample } from "../draft/column-sample.js";
import type { Sample } from "../draft/sample.js";
import { exportForm, fileChunks, findFiles, type InputFile } from "../intake/files.js";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { makeThinner } from "./thinner.js";

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

/** Thins the chunks of a file, see {@link makeThinner}; `bound` is in bytes. Chunks that follow one another are one piece: no row between them is cut. */
export async function thinned(name: string, chunks: AsyncIterable<Uint8Array>, bound: number): Promise<Sample> {
  const thinner = makeThinner<Uint8Array>(bound);
  let bytes = 0;
  for await (const chunk of chunks) {
    bytes += chunk.length;
    // Copied: whoever reads the file may use the chunk's memory again.
    thinner.take(Uint8Array.from(chunk), chunk.length);
  }
  const { runs, whole } = thinner.finish();
  return { name, bytes, pieces: runs.map((parts) => Buffer.concat(parts)), whole };
}
