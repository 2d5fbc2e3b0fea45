import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { gunzipChunks } from "../../src/intake/gzip-chunks.js";

/** What comes of packed bytes, given so many at a time; or the code of what is wrong. */
async function unpacked(packed: Buffer, step = packed.length): Promise<string> {
  const pieces = async function* (): AsyncGenerator<Buffer> {
    for (let at = 0; at < packed.length; at += step) yield await Promise.resolve(packed.subarray(at, at + step));
  };
  let text = "";
  try {
    for await (const chunk of gunzipChunks(pieces(), 65_536, null)) text += chunk.toString("latin1");
    return text;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code ?? String(error);
  }
}

describe.each([1, 7, 100_000])("packed with gzip, %i bytes at a time,", (step) => {
  const [one, two] = [gzipSync("first\n"), gzipSync("second\n")];

  it("members one after another are one text", async () => {
    expect(await unpacked(Buffer.concat([one, two]), step)).toBe("first\nsecond\n");
  });

  it("zeros behind the last are nothing, as gzip has it", async () => {
    expect(await unpacked(Buffer.concat([one, Buffer.alloc(50)]), step)).toBe("first\n");
  });

  it("a member whose beginning is damaged is not lost silently", async () => {
    const damaged = Buffer.from(two);
    damaged[1] = 0;
    expect(await unpacked(Buffer.concat([one, damaged]), step)).toBe("Z_DATA_ERROR");
  });
});
