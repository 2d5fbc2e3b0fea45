import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { randomStream, type Random } from "../../src/simulate/random.js";

/** What came of an input. Anything else is a fault, and is thrown. */
export type Came = "read" | "refused";

/** Something that reads files, and how to try it. */
export interface Target {
  readonly name: string;
  /** What stands in the folder besides the input: path → content. */
  readonly besides: Readonly<Record<string, string | Uint8Array>>;
  /** The path of the input in the folder. */
  readonly file: string;
  /** What is read without a fault. */
  readonly samples: readonly (string | Buffer)[];
  /** An input: a sample with something wrong in it. */
  readonly damaged: (random: Random) => Buffer;
  /** Has the input read that stands in the folder. `nth`: its number, so that what takes long is done only for some. Throws where something is at fault. */
  readonly take: (folder: string, nth: number) => Promise<Came>;
  /** Its reader may fall or never come back: the program reads such files in a program of its own, and is what has to do well. */
  readonly isReadApart?: boolean;
  /** The command that reads it, for the built program, and the statuses that it may end with. */
  readonly command: { readonly words: readonly string[]; readonly may: readonly number[] };
}

/** The input of a number: the same for the same seed, whatever came before it. */
export function inputOf(target: Target, seed: number, nth: number): Buffer {
  return target.damaged(randomStream(seed, "fuzz", target.name, String(nth)));
}

/** Writes what stands in the folder besides the input. */
export async function prepared(folder: string, target: Target): Promise<void> {
  for (const [path, content] of Object.entries({ ...target.besides, [target.file]: "" })) {
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), content);
  }
}
