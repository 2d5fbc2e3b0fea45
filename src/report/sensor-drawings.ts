import type { Findings } from "../result/findings.js";
import type { TwinLane } from "../result/sensors.js";
import type { ChartShapes } from "./charts/chart-shapes.js";
import type { Drawing } from "./charts/drawing.js";
import { inBoth } from "./charts/in-both.js";
import { meterChart, type MeterInput } from "./charts/meter-chart.js";
import { typicalDayChart } from "./charts/typical-day-chart.js";
import type { LocalClock } from "./local-time.js";

/** The readings of a sensor and of its twin around its worst stretch; a lane without readings has none. */
export interface SensorDrawing {
  readonly own: Drawing | null;
  readonly twin: Drawing | null;
}

/** For each of `findings.sensors`, the drawings of its readings; null where there are none. */
export async function drawSensors(findings: Findings, clock: LocalClock, shapes: ChartShapes): Promise<(SensorDrawing | null)[]> {
  const drawn: (SensorDrawing | null)[] = [];
  for (const [index, { worst }] of (findings.sensors ?? []).entries()) {
    const picture = worst?.picture ?? null;
    if (worst === null || picture === null || !hasMeter(picture.own)) {
      drawn.push(null);
      continue;
    }
    const window = { from: picture.from, to: picture.to };
    const lane = (input: Pick<MeterInput, "lane" | "worst" | "expected" | "hasTimes">, name: string): Promise<Drawing> =>
      inBoth(shapes, `sensor-${name}-${index + 1}`, (breadth) => meterChart({ ...input, window, clock }, breadth));
    const { twin, own } = picture;
    drawn.push({
      twin: twin !== null && hasMeter(twin) ? await lane({ lane: twin, worst: null, expected: null, hasTimes: false }, "twin") : null,
      own: await lane({ lane: own, worst, expected: picture.expected, hasTimes: true }, "own"),
    });
  }
  return drawn;
}

/** The picture of a typical day; null where there is none to show. */
export async function drawTypicalDay(findings: Findings, clock: LocalClock, shapes: ChartShapes): Promise<Drawing | null> {
  return hasTypicalDay(findings) ? inBoth(shapes, "typical-day", (breadth) => typicalDayChart(findings, clock, breadth)) : null;
}

/** Whether there is a typical day to show: a week or more, and something known of people or vehicles. */
export function hasTypicalDay({ typicalDay }: Findings): boolean {
  return (typicalDay?.subjects.length ?? 0) > 0;
}

function hasMeter(lane: TwinLane): lane is MeterInput["lane"] {
  return lane.meter !== null && lane.meter.readings.length > 0;
}
