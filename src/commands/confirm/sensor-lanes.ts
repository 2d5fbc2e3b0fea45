import { DateTime } from "luxon";
import type { Interval } from "../../ground/intervals.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../ground/units.js";
import { stepAt, stepsOf, type Step } from "../../result/history-steps.js";
import type { Findings } from "../../result/findings.js";
import { stateWords, stirWords } from "../../site/state-words.js";
import { oneLine } from "../one-line.js";

/** What of the findings the lanes are made from. */
export type LaneFindings = Pick<Findings, "period" | "histories"> & {
  readonly site: Pick<Findings["site"], "timeZone" | "subjects">;
  readonly signals: readonly Pick<Findings["signals"][number], "signal" | "kind">[];
};

/** A column for off, on, unknown, and for more than one change within it. */
const signs = { off: ".", on: "#", unknown: "?", several: "+" } as const;
const widest = 72;
const fewestColumns = 24;
const fewestNameColumns = 8;
/** A mark of time needs so much room: "18:00" or "24 Nov", and both together. */
const MARK_COLUMNS = 7;
const LONG_MARK_COLUMNS = 13;
const markSteps = [5 * MINUTE_MS, 10 * MINUTE_MS, 15 * MINUTE_MS, 30 * MINUTE_MS, HOUR_MS, 2 * HOUR_MS, 3 * HOUR_MS, 6 * HOUR_MS, 12 * HOUR_MS, ...[1, 2, 7, 14, 28].map((days) => days * DAY_MS)];

/**
 * What every signal of the site said over a stretch, as lines for a terminal `columns` wide: a lane a signal, under marks of local
 * time. Nothing is said of what most likely happened. Outside the period, and where a signal was silent, it is not known.
 */
export function sensorLanes({ period, histories, site, signals: kinds }: LaneFindings, around: Interval, columns: number): string {
  const signals = histories?.signals ?? [];
  const span = { from: Math.max(around.from, period.from), to: Math.min(around.to, period.to) };
  if (signals.length === 0 || span.from >= span.to) return "Nothing is known of what the sensors said then.";
  const nameWidth = Math.min(Math.max(...signals.map(({ signal }) => signal.length)), Math.max(fewestNameColumns, columns - fewestColumns - 4));
  const width = Math.max(fewestColumns, Math.min(widest, columns - nameWidth - 4));
  const isStir = (id: string): boolean => kinds.some(({ signal, kind }) => signal === id && kind === "stir");
  const told = site.subjects.filter(({ id }) => signals.some(({ signal, subject }) => subject === id && !isStir(signal)));
  const words = [...[...new Set(told.map((subject) => subject.class))].map((one) => stateWords[one]), ...(signals.some(({ signal }) => isStir(signal)) ? [stirWords] : [])];
  return [
    `What the sensors said, ${local(span.from, site.timeZone, "d LLL yyyy HH:mm")} to ${local(span.to, site.timeZone, "d LLL yyyy HH:mm")}`,
    ...markLines(span, width, site.timeZone).map((line) => `  ${" ".repeat(nameWidth)}  ${line}`.trimEnd()),
    ...signals.map(({ signal, steps }) => `  ${shortened(oneLine(signal), nameWidth).padEnd(nameWidth)}  ${lane(stepsOf(steps, period.from), span, width)}`),
    "",
    `  ${signs.on} ${words.map(({ on }) => on).join(", ")}   ${signs.off} ${words.map(({ off }) => off).join(", ")}   ${signs.unknown} not known   ${signs.several} changed back and forth`,
  ].join("\n");
}

/** A name of at most so many characters: its beginning and its end, as names that are alike differ at either. */
function shortened(name: string, most: number): string {
  if (name.length <= most) return name;
  const end = Math.floor((most - 1) / 2);
  return `${name.slice(0, most - 1 - end)}…${name.slice(name.length - end)}`;
}

function lane(steps: readonly Step[], span: Interval, width: number): string {
  return Array.from({ length: width }, (_, column) => {
    const [from, to] = [instantAt(span, width, column), instantAt(span, width, column + 1)];
    const [first, last] = [stepAt(steps, from), stepAt(steps, to - 1)];
    const state = steps[last]?.state;
    return last - first > 1 ? signs.several : state === 1 ? signs.on : state === 0 ? signs.off : signs.unknown;
  }).join("");
}

/** Local times at round marks, and below each a tick. */
function markLines(span: Interval, width: number, zone: string): [string, string] {
  const columnMs = (span.to - span.from) / width;
  const oneDay = local(span.from, zone, "o") === local(span.to - 1, zone, "o");
  const step = markSteps.find((one) => one / columnMs >= (oneDay || one >= DAY_MS ? MARK_COLUMNS : LONG_MARK_COLUMNS)) ?? span.to - span.from;
  const [times, ticks] = [Array.from({ length: width + LONG_MARK_COLUMNS }, () => " "), Array.from({ length: width }, () => " ")];
  const begin = DateTime.fromMillis(span.from, { zone }).startOf("day");
  for (let count = 0; ; count += 1) {
    // Whole days and hours of the clock on the wall, also over a change of the clocks.
    const mark = step >= DAY_MS ? begin.plus({ days: (count * step) / DAY_MS }) : begin.plus({ milliseconds: count * step });
    const column = Math.floor((mark.toMillis() - span.from) / columnMs);
    if (column >= width) break;
    if (column < 0) continue;
    ticks[column] = "|";
    const text = mark.toFormat(step >= DAY_MS ? "d LLL" : oneDay ? "HH:mm" : "d LLL HH:mm");
    for (let i = 0; i < text.length; i += 1) times[column + i] = text.charAt(i);
  }
  return [times.join(""), ticks.join("")];
}

function instantAt({ from, to }: Interval, width: number, column: number): number {
  return from + ((to - from) * column) / width;
}

function local(instant: number, zone: string, format: string): string {
  return DateTime.fromMillis(instant, { zone }).toFormat(format);
}
