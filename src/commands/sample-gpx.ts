import type { ColumnSample } from "../draft/column-sample.js";
import { fileChunks, type InputFile } from "../intake/files.js";
import { makeGpxReader } from "../intake/read-gpx.js";
import { makeSampleSink } from "./sample-sink.js";

/** Reads a GPX file for a first look, keeping up to `bound` characters. Throws `InputError` if it is none, or if packing was cut off. */
export async function sampleGpx(file: InputFile, bound: number): Promise<ColumnSample> {
  const sink = makeSampleSink(bound);
  const reader = makeGpxReader(file.name, sink.intake);
  let bytes = 0;
  for await (const chunk of fileChunks(file)) {
    bytes += chunk.length;
    reader.push(chunk);
  }
  reader.end();
  const { cutOff, ...rest } = sink.sampled();
  return { name: file.name, bytes, format: { form: "gpx", cutOff }, ...rest };
}
