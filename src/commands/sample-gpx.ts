import type { ColumnSample } from "../draft/column-sample.js";
import { cutOffAtOnce, endOf, fileChunks, type InputFile } from "../intake/files.js";
import { makeGpxReader } from "../intake/read-gpx.js";
import { InputError } from "../ground/problem.js";
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
  if (packingCutOff && bytes === 0) throw new InputError([cutOffAtOnce(file.name)]);
  endOf(reader, packingCutOff, file.name);
  return { name: file.name, bytes, format: { form: "gpx" }, ...sink.sampled() };
}
