import type { TopLevelSpec } from "vega-lite";
import type { Fleet } from "../../result/fleet.js";
import { shortened } from "../visible-text.js";
import { labelPlaces } from "./label-places.js";
import { type Layer, layer, quantity, rules, texts, withContent } from "./layers.js";
import { type Breadth, chartWidthPx, palette, TEXT_PX, theme } from "./theme.js";

type Bay = Fleet["bays"][number];

/** A bay with the faults that are typical for the other bays. */
export interface ControlledBay {
  readonly label: string;
  readonly count: number;
  readonly expected: number;
  readonly low: number;
  readonly high: number;
  readonly out: boolean;
}

/** Bays of a chart; of more, those that stand out and an even choice of the others are shown. */
const MOST_BAYS = 300;

const HEIGHT_PX = 240;
const HEAD_PX = 22;
const FOOT_PX = 40;
const RIGHT_PX = 8;
const LEFT_PX: Readonly<Record<Breadth, number>> = { wide: 44, narrow: 30 };
const LABEL_CHARACTERS: Readonly<Record<Breadth, number>> = { wide: 28, narrow: 18 };
/** Of those that stand out, how many are named; the table below has them all, first. */
const MOST_NAMED: Readonly<Record<Breadth, number>> = { wide: 12, narrow: 6 };
/** Where each bay has this much room, all are named below the axis. */
const NAMED_BELOW_PX = 64;
const CHARACTER_PX = 7;
const LEAST_DOT_PX = 3.2;
const TICKS = [0, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000];
/** Ticks nearer to one another than this are left out. */
const TICK_ROOM_PX = 18;

/**
 * The bays that are compared, least expected first; of too many, those that stand out and an even choice of the
 * others.
 */
export function controlledBays(bays: readonly Bay[], most = MOST_BAYS): ControlledBay[] {
  const name = namer(bays);
  const compared = bays.flatMap((bay): ControlledBay[] => {
    const { count, expected, controlLow, controlHigh, standsOut } = bay.faults;
    return expected === null || controlLow === null || controlHigh === null
      ? []
      : [{ label: name(bay), count, expected, low: controlLow, high: controlHigh, out: standsOut }];
  });
  const sorted = compared.toSorted((a, b) => a.expected - b.expected);
  const out = sorted.filter((bay) => bay.out);
  const others = sorted.filter((bay) => !bay.out);
  const room = Math.max(0, most - out.length);
  const chosen = new Set(
    others.length <= room
      ? others
      : Array.from({ length: room }, (_, index) => others[Math.floor(((index + 0.5) * others.length) / room)]),
  );
  return sorted.filter((bay) => bay.out || chosen.has(bay));
}

/** The shortest name that tells the bays of a fleet apart: the bay's, the site's where each has one bay, or both. */
function namer(bays: readonly Bay[]): (bay: Bay) => string {
  if (new Set(bays.map(({ bay }) => bay)).size === bays.length) return ({ bay }) => bay;
  if (new Set(bays.map(({ site }) => site)).size === bays.length) return ({ site }) => site;
  return ({ site, bay }) => `${bay}, ${site}`;
}

/**
 * Bays from left to right by the faults expected from the others' rate and their own exposure; each with its count
 * (dot) beside that expectation (line) and its own control limits (band). Those that stand out are diamonds with
 * their name. Up the axis go roots, so that the band is about as wide for few faults as for many, and few can be told
 * apart. Null where no bay is compared.
 */
export function fleetControl(bays: readonly ControlledBay[], breadth: Breadth): TopLevelSpec | null {
  const farthest = bays.at(-1);
  if (farthest === undefined) return null;
  const left = LEFT_PX[breadth];
  const width = chartWidthPx[breadth] - left - RIGHT_PX;
  const most = Math.max(1, ...bays.flatMap(({ count, high }) => [count, high])) * 1.1;
  const placePx = width / bays.length;
  const placed = (bay: ControlledBay, place: number) => ({ ...bay, label: shortened(bay.label, LABEL_CHARACTERS[breadth]), place });
  const values = bays.map((bay, index) => placed(bay, index + 0.5));
  const edges = [...bays.map((bay, index) => placed(bay, index)), placed(farthest, bays.length)];
  const x = { ...quantity("place"), scale: { domain: [0, bays.length], nice: false, zero: false }, axis: null };
  const scale = { type: "sqrt" as const, domain: [0, most], nice: false };
  const yPx = (faults: number): number => HEIGHT_PX * (1 - Math.sqrt(faults / most));
  const ticks = TICKS.filter((tick) => tick <= most).reduce<number[]>(
    (kept, tick) => {
      const last = kept.at(-1);
      return last !== undefined && yPx(last) - yPx(tick) < TICK_ROOM_PX ? kept : [...kept, tick];
    },
    [],
  );
  const axis = { values: ticks, format: ",d", grid: true, domain: false, ticks: false, title: null };
  const y = { ...quantity("count"), scale, axis };
  const line = (field: string, look: object): Layer =>
    layer(edges, { type: "line", interpolate: "step-after", strokeJoin: "miter", ...look }, { x, y: { ...y, field } });
  const point = (out: boolean, look: object): Layer =>
    layer(
      values.filter((value) => value.out === out),
      { type: "point", filled: true, opacity: 1, ...look },
      { x, y },
    );
  const dotPx = Math.max(LEAST_DOT_PX, Math.min(8, placePx * 0.9));
  const named = values.filter(({ out }) => out).toSorted((a, b) => b.count / b.high - a.count / a.high).slice(0, MOST_NAMED[breadth]);
  const marked = values.map(({ place, count }) => ({ x: place * placePx, y: yPx(count) }));
  const labels = labelPlaces(
    named.map(({ label, place, count }) => ({ label, x: place * placePx, y: yPx(count) })),
    { marks: marked, width, height: HEIGHT_PX, top: -HEAD_PX / 2 },
  );
  const below =
    placePx >= NAMED_BELOW_PX
      ? values.map(({ label, place }) => ({
          x: place * placePx,
          y: HEIGHT_PX + 10,
          label: shortened(label, Math.floor(placePx / CHARACTER_PX)),
        }))
      : [];
  return {
    autosize: "none",
    padding: { left, right: RIGHT_PX, top: HEAD_PX, bottom: FOOT_PX },
    width,
    height: HEIGHT_PX,
    config: theme,
    layer: withContent([
      layer(
        edges,
        { type: "area", interpolate: "step-after", color: palette.wash, opacity: 1 },
        { x, y: { ...y, field: "low" }, y2: { field: "high" } },
      ),
      line("low", { color: palette.soft, strokeWidth: 0.75 }),
      line("high", { color: palette.soft, strokeWidth: 0.75 }),
      line("expected", { color: palette.soft, strokeWidth: 1.5, strokeDash: [5, 3] }),
      point(false, { shape: "circle", color: palette.signal, size: dotPx ** 2 }),
      point(true, { shape: "diamond", color: palette.breaks, size: 130 }),
      rules(
        labels.flatMap(({ lead }) => (lead === null ? [] : [lead])),
        { color: palette.breaks, strokeWidth: 0.75 },
      ),
      ...(["left", "right"] as const).map((align) =>
        texts(
          labels.filter((one) => one.align === align).map(({ x: at, y: level, label }) => ({ x: at, y: level, label })),
          { align, baseline: "middle", color: palette.breaks, fontWeight: "bold" },
        ),
      ),
      texts(below, { align: "center", baseline: "middle", color: palette.ink }),
      texts([{ x: -left, y: -HEAD_PX + TEXT_PX / 2 + 1, label: "faults" }], { align: "left", baseline: "middle", color: palette.soft }),
      texts(
        [
          {
            x: 0,
            y: HEIGHT_PX + (below.length > 0 ? 30 : 12),
            label:
              breadth === "wide"
                ? "bays, from those of which fewest faults are expected to those of which most are"
                : "bays, fewest faults expected first",
          },
        ],
        { align: "left", baseline: "middle", color: palette.soft },
      ),
    ]),
  };
}
