import { Writable } from "node:stream";
import { describe, expect, it } from "vitest";
import { watchOutput } from "../../src/commands/output-watch.js";

/** An output that fails with this error, and what was told of it. */
async function failing(code: string): Promise<{ told: string; lost: boolean }> {
  let told = "";
  const output = new Writable({ write: (_chunk, _encoding, done) => done(Object.assign(new Error("failed"), { code })) });
  const wasLost = watchOutput(output, (text) => void (told += text));
  output.write("a report");
  await new Promise((soon) => setImmediate(soon));
  return { told, lost: wasLost() };
}

describe("an output that fails", () => {
  it("is told of in words", async () => {
    expect(await failing("ENOSPC")).toEqual({ told: "The output cannot be written (ENOSPC): part of it is lost. To mend it: make room, or write it elsewhere.\n", lost: true });
  });

  it("is no loss when its reader has seen enough", async () => {
    expect(await failing("EPIPE")).toEqual({ told: "", lost: false });
  });
});
