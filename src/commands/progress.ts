import cliProgress, { type Options } from "cli-progress";
import { MINUTE_MS, SECOND_MS } from "../ground/units.js";
import { oneLine, REDRAW } from "./one-line.js";
import type { Surroundings } from "./surroundings.js";

/** How far intake has read. */
export interface ReadingProgress {
  readonly file: string;
  readonly bytes: number;
  readonly totalBytes: number;
  readonly rows: number;
}

/** Tells how far long work has come. */
export interface Progress {
  readonly onProgress: (progress: ReadingProgress) => void;
  /** What is being done now, in a few words. */
  readonly step: (text: string) => void;
  /** Leaves nothing behind on a terminal; call it before anything else is said. */
  readonly clear: () => void;
}

/** Redrawing more often costs more than it shows. */
const REDRAW_MS = 100;
/** Where there is no terminal: often enough to see that it goes on, seldom enough for a log. */
const LINE_EVERY_MS = 10 * SECOND_MS;
/** From less than this share read nobody can tell how long the rest takes. */
const LEAST_SHARE = 0.02;
const LONGEST_NAME = 30;

const bar: Options = {
  barsize: 20,
  barCompleteString: "█".repeat(20),
  barIncompleteString: "░".repeat(20),
  barGlue: "",
  formatTime: (seconds) => leftText(seconds * SECOND_MS),
};

/**
 * Tells through `around.tell` how far the work has come. On a terminal: one line that is drawn anew, with a bar, rows, rows a second and the
 * time left. Elsewhere: the same without the bar, a line every ten seconds. Nothing when `quiet`.
 */
export function makeProgress(around: Surroundings, quiet: boolean): Progress {
  const startedAt = around.now();
  let shownAt = around.tellsTerminal ? -Infinity : startedAt;
  /** Shows a text if it is time to. A step is drawn at once on a terminal: it may be long until the next. */
  const show = (text: () => string, isStep: boolean): void => {
    const now = around.now();
    if (quiet || (now - shownAt < (around.tellsTerminal ? REDRAW_MS : LINE_EVERY_MS) && !(isStep && around.tellsTerminal))) return;
    shownAt = now;
    around.tell(around.tellsTerminal ? `${REDRAW}${text()}` : `${text()}\n`);
  };
  return {
    onProgress(progress) {
      const isRead = progress.bytes >= progress.totalBytes;
      const elapsedMs = Math.max(around.now() - startedAt, 1);
      show(() => (isRead ? `${countText(progress.rows)} rows read; working on them` : readingText(progress, elapsedMs, around.tellsTerminal)), isRead);
    },
    step(text) {
      show(() => oneLine(text), true);
    },
    clear() {
      if (!quiet && around.tellsTerminal && shownAt !== -Infinity) around.tell(REDRAW);
    },
  };
}

function readingText({ file, bytes, totalBytes, rows }: ReadingProgress, elapsedMs: number, withBar: boolean): string {
  const share = bytes / totalBytes;
  const rate = Math.round((rows / elapsedMs) * SECOND_MS);
  const format = `${withBar ? "{bar} " : ""}{percentage} %, {rows} rows, {rate} a second${share > LEAST_SHARE ? ", about {eta_formatted} left" : ""}`;
  const params = { progress: share, eta: ((elapsedMs / share) * (1 - share)) / SECOND_MS, startTime: 0, stopTime: elapsedMs, total: totalBytes, value: bytes, maxWidth: 0 };
  const line = cliProgress.Format.Formatter({ ...bar, format }, params, { rows: countText(rows), rate: countText(rate) });
  const name = oneLine(file);
  return `reading ${name.length > LONGEST_NAME ? `…${name.slice(1 - LONGEST_NAME)}` : name}: ${line}`;
}

function leftText(ms: number): string {
  return ms < 2 * MINUTE_MS ? `${Math.ceil(ms / SECOND_MS)} s` : `${Math.ceil(ms / MINUTE_MS)} min`;
}

function countText(count: number): string {
  return count.toLocaleString("en");
}
