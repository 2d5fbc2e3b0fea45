import type { ColumnSample } from "../draft/column-sample.js";
import { fileChunks, type InputFile } from "../intake/files.js";
import { makeGpxReader, type GpxReader } from "../intake/read-gpx.js";
import { InputError } from "../problem.js";
import { makeSampleSink } from "./sample-sink.js";

/** Reads a GPX file for a first look, keeping up to `bound` characters. Of one that stops in the middle, packed or not, what stands before. Throws `InputError` if it is none. */
export async function sampleGpx(file: InputFile, bound: number): Promise<ColumnSample> {
  const sink = makeSampleSink(bound);
  const reader = makeGpxReader(file.name, sink.intake);
  let bytes = 0;
  let packingCutOff = false as boolean;
  for await (const chunk of fileChunks(file, { onCutOff: () => (packingCutOff = true) })) {
    bytes += chunk.length;
    reader.push(chunk);
  }
  endOf(reader, packingCutOff, file.name, bytes);
  return { name: file.name, bytes, format: { form: "gpx" }, ...sink.sampled() };
}

/** A cut before the first element: then the format is not what is wrong. */
function endOf(reader: GpxReader, packingCutOff: boolean, file: string, bytes: number): void {
  const cutOff = new InputError([{ code: "file-cut-off", what: "The packed file is cut off before its first row", file, expected: "a whole gzip file", found: "its end before the end of the data", mend: "copy or export it again" }]);
  if (packingCutOff && bytes === 0) throw cutOff;
  try {
    reader.end(packingCutOff);
  } catch (error) {
    throw packingCutOff && error instanceof InputError ? cutOff : error;
  }
}
