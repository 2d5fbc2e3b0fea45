import type { LimitClaim } from "../../result/design.js";
import { amountText } from "../format.js";
import { type Road, roadKeys, roadNames } from "../roads.js";
import type { Layer, Look, Sheet } from "./sheet.js";
import { type Breadth, chartWidthPx, palette, TEXT_PX } from "./theme.js";

const HEAD_PX = 28;
const PLOT_PX = 170;
const FOOT_PX = 44;
/** Room for two lines that end in one place to be labelled one below the other. */
const LABEL_LINE_PX = TEXT_PX + 4;
const measures: Readonly<Record<Breadth, { left: number; right: number }>> = {
  wide: { left: 48, right: 150 },
  narrow: { left: 38, right: 92 },
};
const looks: Readonly<Record<Road, { readonly line: Look; readonly point: Look; readonly shape: "circle" | "square" }>> = {
  design: { line: { stroke: palette.signal, "stroke-width": 2.5 }, point: { fill: palette.signal }, shape: "circle" },
  counting: {
    line: { stroke: palette.ink, "stroke-width": 1.75, "stroke-dasharray": "6,3" },
    point: { fill: palette.paper, stroke: palette.ink, "stroke-width": 1.75 },
    shape: "square",
  },
};

/** What a chart of claims shows. */
export interface ShownClaims {
  readonly claims: readonly LimitClaim[];
  /** In the order in which they are named: the quicker first. At least one. */
  readonly roads: readonly Road[];
  /** Wrong firings a year the rule may have; null where the site file sets no limit. */
  readonly limit: number | null;
}

/**
 * The smallest limit that each road supports now and later: a step line a road, for what is supported at one look holds
 * until the next; full with discs by design, dashed with squares by counting, each with its name at its end. Amounts
 * stand on a logarithmic axis, as they differ a hundredfold.
 */
export function claimsChart({ claims, roads, limit }: ShownClaims, breadth: Breadth): Sheet {
  const { left, right } = measures[breadth];
  const width = chartWidthPx[breadth];
  const end = width - right;
  const amounts = [...roads.flatMap((road) => claims.flatMap((one) => one[roadKeys[road]] ?? [])), ...(limit === null ? [] : [limit])].filter((amount) => amount > 0);
  const ticks = claimTicks(amounts);
  const [low, high] = [Math.min(...ticks), Math.max(...ticks)];
  const mostMonths = Math.max(1, ...claims.map(({ moreMonths }) => moreMonths));
  const bottom = HEAD_PX + PLOT_PX;
  const xOf = (months: number): number => left + (months / mostMonths) * (end - left);
  const yOf = (amount: number): number => bottom - (Math.log(Math.max(amount, low) / low) / Math.log(high / low)) * PLOT_PX;
  const placed = roads.map((road) => ({
    road,
    points: claims.flatMap((one) => {
      const amount = one[roadKeys[road]];
      return amount === null ? [] : [{ x: xOf(one.moreMonths), y: yOf(amount), run: road }];
    }),
  }));
  const ends = placed.flatMap(({ road, points }) => {
    const last = points.at(-1);
    return last === undefined ? [] : [{ label: roadNames[road], y: last.y }];
  });
  const limits = limit === null ? [] : [{ label: `limit ${amountText(limit)}`, y: yOf(limit) }];
  const labels = apart([...ends, ...limits]);
  const soft: Look = { fill: palette.soft };
  return {
    width,
    height: bottom + FOOT_PX,
    layers: [
      { mark: "rule", rows: ticks.map((tick) => ({ x: left, x2: end, y: yOf(tick), y2: yOf(tick) })), look: { stroke: palette.hair } },
      { mark: "rule", rows: [{ x: left, x2: left, y: HEAD_PX, y2: bottom }], look: { stroke: palette.soft } },
      { mark: "text", rows: [{ x: 0, y: 8, label: "wrong a year, at most" }], look: soft },
      { mark: "text", rows: ticks.map((tick) => ({ x: left - 7, y: yOf(tick), label: amountText(tick) })), look: { ...soft, "text-anchor": "end" } },
      {
        mark: "rule",
        rows: limits.map(({ y }) => ({ x: left, x2: end, y, y2: y })),
        look: { stroke: palette.breaks, "stroke-width": 1.5, "stroke-dasharray": "2,3" },
      },
      ...placed.flatMap(({ road, points }): Layer[] => [
        { mark: "line", rows: points, look: looks[road].line },
        { mark: "point", shape: looks[road].shape, size: 60, rows: points.map(({ x, y }) => ({ x, y })), look: looks[road].point },
      ]),
      {
        mark: "text",
        rows: labels.slice(0, ends.length).map(({ label, y }) => ({ x: end + 9, y, label })),
        look: { fill: palette.ink, "font-weight": "bold" },
      },
      { mark: "text", rows: labels.slice(ends.length).map(({ label, y }) => ({ x: end + 9, y, label })), look: { fill: palette.breaks } },
      {
        mark: "text",
        baseline: "top",
        rows: claims.map(({ moreMonths }) => ({ x: xOf(moreMonths), y: bottom + 8, label: monthLabel(moreMonths) })),
        look: { ...soft, "text-anchor": "middle" },
      },
      { mark: "text", baseline: "top", rows: [{ x: left, y: bottom + 26, label: breadth === "wide" ? "after this many more months like those seen" : "after more such months" }], look: soft },
    ],
  };
}

function monthLabel(moreMonths: number): string {
  return moreMonths === 0 ? "now" : `+${moreMonths}`;
}

/**
 * Where the axis is labelled: powers of ten around the amounts, and 2 and 5 between them where there are less than two
 * decades. All amounts lie between the first and the last.
 */
export function claimTicks(amounts: readonly number[]): number[] {
  const [from, most] = amounts.length === 0 ? [1, 1] : [Math.min(...amounts), Math.max(...amounts)];
  const first = Math.floor(Math.log10(from));
  const last = Math.max(Math.ceil(Math.log10(most)), first + 1);
  const decades = Array.from({ length: last - first + 1 }, (_, index) => decimal(1, first + index));
  if (decades.length > 3) return decades;
  return Array.from({ length: last - first }, (_, index) => [1, 2, 5].map((digit) => decimal(digit, first + index)))
    .flat()
    .concat(decimal(1, last));
}

/** `digit` times ten to a power, without the error of multiplying by 0.1. */
function decimal(digit: number, power: number): number {
  return Number(`${digit}e${power}`);
}

/** Labels at their heights, moved so far apart that none covers another; the order they came in is kept. */
function apart<Label extends { readonly y: number }>(labels: readonly Label[]): Label[] {
  const moved = new Map<Label, number>();
  let above = -Infinity;
  for (const one of labels.toSorted((a, b) => a.y - b.y)) {
    above = Math.max(one.y, above + LABEL_LINE_PX);
    moved.set(one, above);
  }
  return labels.map((one) => ({ ...one, y: moved.get(one) ?? one.y }));
}
