/** The part of an output stream that is used here. */
interface Output {
  on(event: "error", listener: (error: NodeJS.ErrnoException) => void): unknown;
}

/**
 * Listens for write errors, which would otherwise end the program with a stack trace. A reader that stops early (`| head`)
 * is not an error: the work goes on. The returned function says whether output was lost.
 */
export function watchOutput(output: Output, tell: (text: string) => void): () => boolean {
  let lost = false;
  output.on("error", (error) => {
    if (error.code === "EPIPE" || lost) return;
    lost = true;
    tell(`The output cannot be written (${error.code ?? error.message}): part of it is lost. To mend it: make room, or write it elsewhere.\n`);
  });
  return () => lost;
}
