import { fork } from "node:child_process";
import type { EventEmitter } from "node:events";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker, type ResourceLimits } from "node:worker_threads";

/** What a thread says first, once it listens: on a busy machine it may take seconds to get there, and nobody's patience runs before. */
export const READY = "ready";

/** One of a crew, who reads for us: a thread of this program, or one of a program of its own. */
export interface Hand<To, From> {
  /** Resolves when it listens. */
  readonly ready: Promise<void>;
  readonly say: (message: To) => void;
  /** Hears it until what is returned is called. `onEnd` is told why it ended by itself: `isFallen` where no error of the program's says so. */
  readonly hear: (onMessage: (message: From) => void, onEnd: (error: Error, isFallen: boolean) => void) => () => void;
  readonly end: () => Promise<void>;
}

/** A thread that runs a script. */
export function makeThread<To, From>(script: URL, resourceLimits: ResourceLimits): Hand<To, From> {
  const thread = new Worker(script, { resourceLimits });
  return {
    ready: Promise.resolve(),
    say: (message) => {
      thread.postMessage(message);
    },
    hear: hearing(thread, "the thread", false),
    async end() {
      await thread.terminate();
    },
  };
}

const processScript = new URL("./reader-process.js", import.meta.url);

/** Whether programs of their own can be had: not where the source is run as it is. */
export function hasProcesses(): boolean {
  return existsSync(fileURLToPath(processScript));
}

/**
 * A program of its own, a thread of which runs the script: for what may take all memory. A list that grows past what any list can hold ends a
 * whole program at once, and a thread that runs out of memory may too. Ends with this program.
 */
export function makeProcess<To extends object, From>(script: URL): Hand<To, From> {
  const child = fork(fileURLToPath(processScript), [script.href], { serialization: "advanced", stdio: ["ignore", "ignore", "ignore", "ipc"], execArgv: [] });
  const ended = new Promise<void>((resolve) => void child.once("close", resolve).once("error", resolve));
  // Whoever waits for it is told; nobody may be waiting any more.
  const ready = new Promise<void>((resolve, reject) => void child.once("message", () => { resolve(); }).once("error", reject).once("exit", () => { reject(new Error("the program that reads could not be started")); }));
  ready.catch(() => undefined);
  return {
    ready,
    say: (message) => void child.send(message),
    hear: hearing(child, "the program that reads", true),
    end() {
      child.kill("SIGKILL");
      return ended;
    },
  };
}

/** How one is heard; `isFallen` where it ends without an error before. */
function hearing<From>(speaker: Pick<EventEmitter, "on" | "off">, name: string, isFallen: boolean): Hand<never, From>["hear"] {
  return (onMessage, onEnd) => {
    const take = (message: unknown): void => {
      if (message !== READY) onMessage(message as From);
    };
    const onError = (error: Error): void => {
      onEnd(error, false);
    };
    const onExit = (code: number | null, signal?: string | null): void => {
      onEnd(new Error(`${name} ended with ${code ?? signal ?? "nothing"}`), isFallen);
    };
    speaker.on("message", take).on("error", onError).on("exit", onExit);
    return () => {
      speaker.off("message", take).off("error", onError).off("exit", onExit);
    };
  };
}
