import { spawn } from "node:child_process";

/** Keys as a terminal sends them. */
export const keys = { up: "\u001b[A", down: "\u001b[B", enter: "\r", space: " ", interrupt: "\u0003" } as const;

/** On a loaded machine an audit of a small house takes some seconds. */
const LONGEST_WAIT_MS = 60_000;

/** A program that runs at a terminal of its own. */
export interface AtTerminal {
  /**
   * Waits until these texts have come since the last keys were sent, one after the other, and sends further keys. In any order would not
   * do: the foot of the last question may be drawn once more after the keys, and keys that come between two questions are lost.
   * Throws if the program ends before, or a minute passes.
   */
  readonly when: (texts: readonly string[], send: string) => Promise<void>;
  /** The exit status, once the program has ended. */
  readonly ended: Promise<number>;
  /** All that came to the screen, without the signs that move the cursor. */
  readonly screen: () => string;
  /** All that was written to the terminal, as it was. */
  readonly written: () => string;
}

/** Runs a command line at a pseudo-terminal of 100 columns: util-linux' `script` (Debian's bsdutils, an essential package) makes it. */
export function atTerminal(command: string, folder: string, env: Readonly<Record<string, string | undefined>> = process.env): AtTerminal {
  const child = spawn("script", ["-qfec", `stty cols 100 rows 40; exec ${command}`, "/dev/null"], { cwd: folder, stdio: ["pipe", "pipe", "inherit"], env: { ...env, TERM: "xterm", NO_COLOR: "1" } });
  let all = "";
  let seen = 0;
  let over = false;
  let look: () => void = () => undefined;
  child.stdin.on("error", () => undefined);
  child.stdout.on("data", (data: Buffer) => {
    all += data.toString("utf8");
    look();
  });
  const ended = new Promise<number>((done) => {
    child.once("close", (code) => {
      over = true;
      look();
      done(code ?? -1);
    });
  });
  return {
    ended,
    screen: () => plain(all),
    written: () => all,
    async when(texts, send) {
      let tooLong: NodeJS.Timeout | undefined;
      await new Promise<void>((done, fail) => {
        const failed = (what: string): void => fail(new Error(`${what} before it showed ${texts.join(", ")}:\n${plain(all.slice(seen))}`));
        tooLong = setTimeout(() => failed("A minute passed"), LONGEST_WAIT_MS);
        look = () => {
          const since = plain(all.slice(seen));
          if (inOrder(since, texts)) done();
          else if (over) failed("The program ended");
        };
        look();
      }).finally(() => clearTimeout(tooLong));
      look = () => undefined;
      seen = all.length;
      child.stdin.write(send);
    },
  };
}

function inOrder(all: string, texts: readonly string[]): boolean {
  let from = 0;
  return texts.every((text) => {
    const at = all.indexOf(text, from);
    from = at + text.length;
    return at >= 0;
  });
}

/** Without escape sequences. */
function plain(text: string): string {
  return text.replace(/\u001b\[[0-9;?]*[A-Za-z]/g, "");
}
