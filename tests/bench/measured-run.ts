import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

/** What a program cost. */
export interface Cost {
  readonly seconds: number;
  /** Of all its threads. */
  readonly cpuSeconds: number;
  readonly peakMegabytes: number;
  readonly said: string;
}

/** Written by the program itself as it ends: the kernel's own figures, peak memory of the whole process included. */
const REPORT = `process.on("exit", () => { const u = process.resourceUsage(); require("node:fs").writeSync(3, JSON.stringify([u.userCPUTime, u.systemCPUTime, u.maxRSS])); });`;

/** Runs a compiled script beside this one in a process of its own. Throws if it ends with a status that is not `accepted`. */
export async function measuredRun(script: string, words: readonly string[], accepted: readonly number[] = [0]): Promise<Cost> {
  const path = fileURLToPath(new URL(script, import.meta.url));
  const preload = `data:text/javascript,${encodeURIComponent(`import { createRequire } from "node:module"; const require = createRequire("file:///"); ${REPORT}`)}`;
  const from = performance.now();
  const child = spawn(process.execPath, ["--import", preload, path, ...words], { stdio: ["ignore", "pipe", "inherit", "pipe"] });
  const read = async (stream: AsyncIterable<Buffer>): Promise<string> => {
    const chunks: Buffer[] = [];
    for await (const chunk of stream) chunks.push(chunk);
    return Buffer.concat(chunks).toString("utf8");
  };
  const status = new Promise<number | null>((resolve) => child.on("exit", resolve));
  const [said, usage] = await Promise.all([read(child.stdout!), read(child.stdio[3] as unknown as AsyncIterable<Buffer>)]);
  const ended = await status;
  const seconds = (performance.now() - from) / 1000;
  if (ended === null || !accepted.includes(ended)) throw new Error(`${script} ended with ${ended}`);
  const [user, system, kilobytes] = JSON.parse(usage) as [number, number, number];
  return { seconds, cpuSeconds: (user + system) / 1e6, peakMegabytes: kilobytes / 1024, said };
}
