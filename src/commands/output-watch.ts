/** What is needed of a stream that the program writes to. */
interface Output {
  on(event: "error", listener: (error: NodeJS.ErrnoException) => void): unknown;
}

/**
 * Watches an output for failing, which without a listener would end the program half-way with a stack trace. A reader that
 * has seen enough (`| head`) is no failure: the work goes on. Returns whether something was lost.
 */
export function watchOutput(output: Output, tell: (text: string) => void): () => boolean {
  let lost = false;
  output.on("error", (error) => {
    if (error.code === "EPIPE" || lost) return;
    lost = true;
    tell(`The output cannot be written (${error.code ?? error.message}): what was to be said here is not whole. To mend it: make room, or write it elsewhere.\n`);
  });
  return () => lost;
}
