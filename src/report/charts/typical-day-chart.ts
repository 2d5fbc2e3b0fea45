import { group, max } from "d3-array";
import type { TopLevelSpec } from "vega-lite";
import { NIGHT_SPANS } from "../../ground/night.js";
import { HOURS_PER_DAY, MINUTE_SECONDS } from "../../ground/units.js";
import type { Findings } from "../../result/findings.js";
import type { DaySubject } from "../../result/typical-day.js";
import type { LocalClock } from "../local-time.js";
import { shortened } from "../visible-text.js";
import { dayPieces } from "./day-places.js";
import { labelText, type Layer, layer, quantity, withContent } from "./layers.js";
import { type Breadth, chartWidthPx, theme } from "./theme.js";

const FONT_PX = 12.5;
/** A subject's places in px, from its own top. */
const LANE = { pitch: 70, name: 10, top: 16, base: 42, marksTop: 45, marksBottom: 49, event: 58 } as const;
/** Marks are no narrower than this share of the day. */
const LEAST_MARK_HOURS = 0.09;
/** At the edges, texts need no further room. */
const SIDE_PX = 4;
const AXIS_HOURS = [0, 6, 12, 18, 24];
/** About the width of a bold letter. */
const LETTER_PX = 7.2;
/** Longer names are cut. */
const NAME_LETTERS = 24;
/** As many letters fit a narrow drawing. */
const NARROW_LETTERS = 42;

/** Each person's and vehicle's share of weekdays present by local hour, weekends as a dashed line; in brick below, when a sensor of it differed. */
export function typicalDayChart(findings: Findings, clock: LocalClock, breadth: Breadth): TopLevelSpec {
  const subjects = findings.typicalDay?.subjects ?? [];
  const [width, height] = [chartWidthPx[breadth] - 2 * SIDE_PX, subjects.length * LANE.pitch];
  const x = { ...quantity("x"), scale: { domain: [0, HOURS_PER_DAY], nice: false }, axis: null };
  const own = { scale: null, axis: null } as const;
  const y = { ...quantity("y"), ...own };
  const [x2, y2, detail] = [{ field: "x2" }, { field: "y2" }, { field: "run", type: "nominal" as const }];
  const text = (of: readonly object[], look: object, place: object = { x, y }): Layer =>
    layer(of, { type: "text", fontSize: FONT_PX, color: "var(--ink2)", align: "left", ...look }, { ...place, text: labelText });
  const tops = subjects.map((one, index) => ({ one, top: index * LANE.pitch }));
  const events = tops.flatMap(({ one, top }) => longestEvent(one, findings, clock, breadth).map((event) => ({ ...event, y: top + LANE.event })));
  return {
    autosize: "none",
    padding: { left: SIDE_PX, right: SIDE_PX, top: 6, bottom: 22 },
    width,
    height,
    config: theme,
    layer: withContent([
      layer(tops.flatMap(({ top }) => NIGHT_SPANS.map(([from, to]) => ({ x: from, x2: to, y: top + LANE.top, y2: top + LANE.base }))), { type: "rect", color: "var(--wash)" }, { x, x2, y, y2 }),
      layer(AXIS_HOURS.map((hour) => ({ x: hour })), { type: "rule", color: "var(--hair)", strokeDash: [1, 3] }, { x }),
      layer(tops.flatMap(({ one, top }) => shareRows(one, "weekdays", top)), { type: "area", interpolate: "step-after", color: "var(--area)" }, { x, y, y2, detail }),
      layer(tops.flatMap(({ one, top }) => shareRows(one, "weekends", top)), { type: "line", interpolate: "step-after", color: "var(--ink)", strokeWidth: 1.25, strokeDash: [4, 3] }, { x, y, detail }),
      layer(tops.map(({ top }) => ({ x: 0, x2: HOURS_PER_DAY, y: top + LANE.base + 0.5 })), { type: "rule", color: "var(--ink2)" }, { x, x2, y }),
      layer(tops.flatMap(({ one, top }) => markRows(one, findings, clock, top)), { type: "rect", color: "var(--brick)" }, { x, x2, y, y2 }),
      text(tops.map(({ one, top }) => ({ x: 0, y: top + LANE.name, label: nameOf(one, findings) })), { color: "var(--ink)", fontWeight: 600, baseline: "alphabetic" }),
      text(tops.flatMap(({ one, top }) => usualText(one).map((label) => ({ x: HOURS_PER_DAY, y: top + LANE.name, label }))), { align: "right", baseline: "alphabetic" }),
      ...(["left", "right"] as const).map((align) =>
        text(events.filter((event) => event.align === align), { align, color: "var(--brick)", fontWeight: 600, baseline: "middle" }),
      ),
      ...(["left", "center", "right"] as const).map((align) =>
        text(AXIS_HOURS.filter((hour) => alignOf(hour) === align).map((hour) => ({ x: hour, label: hourName(hour, breadth) })), { align, baseline: "top", dy: 6 }, { x, y: { value: height } }),
      ),
    ]),
  };
}

/** `out 08:06, home 16:54`; for a bay `leaves 08:06, back 16:54`; for who is away at night `in 05:30, out 18:36`. */
export function usualText({ usual, class: subjectClass }: DaySubject): string[] {
  if (usual === null) return [];
  const [first, second] = usual.way === "visits" ? ["in", "out"] : subjectClass === "person" ? ["out", "home"] : ["leaves", "back"];
  return [`${first} ${clockTime(usual.first)}, ${second} ${clockTime(usual.second)}`];
}

function clockTime(minutes: number): string {
  return [Math.floor(minutes / MINUTE_SECONDS), minutes % MINUTE_SECONDS].map((part) => String(part).padStart(2, "0")).join(":");
}

/** A bay with its vehicle: `estate in bay-1`. */
function nameOf({ subject }: DaySubject, { site }: Findings): string {
  const vehicle = site.subjects.find(({ id }) => id === subject)?.vehicle ?? null;
  return shortened(vehicle === null ? subject : `${vehicle} in ${subject}`, NAME_LETTERS);
}

/** A corner a half-hour; where nothing was known the run ends. */
function shareRows({ subject, ...of }: DaySubject, sort: "weekdays" | "weekends", top: number): { x: number; y: number; y2: number; run: string }[] {
  const { halfHours } = of[sort];
  let run = 0;
  return halfHours.flatMap((share, n) => {
    if (share === null) {
      run += 1;
      return [];
    }
    const row = { y: top + LANE.base - share * (LANE.base - LANE.top), y2: top + LANE.base, run: `${subject} ${run}` };
    const isLast = (halfHours[n + 1] ?? null) === null;
    return [{ x: n / 2, ...row }, ...(isLast ? [{ x: (n + 1) / 2, ...row }] : [])];
  });
}

function markRows({ subject }: DaySubject, { sensors = [], period }: Findings, clock: LocalClock, top: number): { x: number; x2: number; y: number; y2: number }[] {
  const pieces = sensors.filter((one) => one.subject === subject).flatMap(({ stretches }) => dayPieces(stretches.differed, period, clock));
  // Many days have the same marks: one of each is enough.
  const spans = group(
    pieces.map(({ fromHour, toHour }) => [Math.min(fromHour, HOURS_PER_DAY - LEAST_MARK_HOURS), Math.max(toHour, fromHour + LEAST_MARK_HOURS)] as const),
    ([from, to]) => `${from.toFixed(2)} ${to.toFixed(2)}`,
  );
  return [...spans.values()].map(([first]) => ({ x: first?.[0] ?? 0, x2: Math.min(HOURS_PER_DAY, first?.[1] ?? 0), y: top + LANE.marksTop, y2: top + LANE.marksBottom }));
}

/** The sensor that differed longest at a stretch, and why: below where it did. */
function longestEvent({ subject }: DaySubject, { sensors = [], period }: Findings, clock: LocalClock, breadth: Breadth): { x: number; align: "left" | "right"; label: string }[] {
  const own = sensors.filter((one) => one.subject === subject && one.state !== "fine" && one.stretches.differed.length > 0);
  const longest = max(own, ({ differed }) => differed.longestHours);
  const [worst] = own.filter(({ differed }) => differed.longestHours === longest);
  if (worst === undefined) return [];
  const stretch = worst.stretches.differed.reduce((a, b) => (b[1] - b[0] > a[1] - a[0] ? b : a));
  const [piece] = dayPieces([stretch], period, clock);
  const at = piece?.fromHour ?? 0;
  const [first = ""] = worst.why;
  const name = shortened(worst.signal, NAME_LETTERS);
  const label = breadth === "wide" ? `${name}: ${worst.why.join("; ")}` : `${name}: ${first}`.length <= NARROW_LETTERS ? `${name}: ${first}` : first;
  const long = (label.length * LETTER_PX * HOURS_PER_DAY) / chartWidthPx[breadth];
  const isLeft = at < HOURS_PER_DAY / 2 && at + long < HOURS_PER_DAY;
  const end = Math.min(HOURS_PER_DAY, Math.max(piece?.toHour ?? at, long));
  return [{ x: breadth === "wide" ? (isLeft ? at : end) : isLeft ? 0 : HOURS_PER_DAY, align: isLeft ? "left" : "right", label }];
}

function hourName(hour: number, breadth: Breadth): string {
  return hour === 12 ? "noon" : hour % 24 === 0 && breadth === "wide" ? "midnight" : `${String(hour).padStart(2, "0")}:00`;
}

function alignOf(hour: number): "left" | "center" | "right" {
  return hour === 0 ? "left" : hour === HOURS_PER_DAY ? "right" : "center";
}
