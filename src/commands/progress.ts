import type { Surroundings } from "./surroundings.js";

/** How far intake has read. */
export interface ReadingProgress {
  readonly file: string;
  readonly bytes: number;
  readonly totalBytes: number;
  readonly rows: number;
}

/** Redrawing more often costs more than it shows. */
const REDRAW_MS = 100;

/** Redraws one line on a terminal; silent elsewhere and when `quiet`. */
export function makeProgress(around: Surroundings, quiet: boolean): { readonly onProgress: (progress: ReadingProgress) => void; readonly step: (text: string) => void; readonly clear: () => void } {
  const shown = around.tellsTerminal && !quiet;
  const startedAt = around.now();
  let drawnAt = -Infinity;
  const draw = (text: string): void => {
    if (shown) around.tell(`\r\u001b[K${text}`);
  };
  return {
    onProgress({ file, bytes, totalBytes, rows }) {
      const now = around.now();
      if (now - drawnAt < REDRAW_MS) return;
      drawnAt = now;
      const seconds = Math.max((now - startedAt) / 1000, 0.001);
      const share = totalBytes === 0 ? 1 : bytes / totalBytes;
      const left = share > 0.02 ? `, about ${Math.ceil((seconds / share) * (1 - share))} s left` : "";
      draw(`reading ${file}: ${Math.floor(share * 100)} %, ${Math.round(rows / seconds).toLocaleString("en")} rows a second${left}`);
    },
    step: (text) => draw(text),
    clear: () => draw(""),
  };
}
