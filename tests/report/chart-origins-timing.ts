import type { LocalClock } from "../../src/report/local-time.js";
import { type Origin, rowsOf } from "./chart-source.js";
import { account, type DrawnLayer, numberOf, type Place, type Row } from "./drawn-numbers.js";

/** `firing-N-M`, `near-N-M`: the lanes of an excerpt; all places across are even in time, and up and down a lane is on or off. */
export const timing: Origin = ({ findings, clock, layers, at, name }) => {
  const rule = findings.rules[at[0]!]!;
  const { even, sheet, left } = account(layers);
  const firing = rule.firingList.filter(({ outcome }) => outcome !== "right")[at[1]!];
  const miss = rule.margin.nearMisses[at[1]!];
  const excerpt = name === "near" ? miss!.excerpt! : rule.moments.find((moment) => moment.firing === firing!.id)!;
  const marked = name === "near" ? [miss!.from, miss!.to] : [firing!.at, ...(firing!.wantedAt === null ? [] : [firing!.wantedAt])];
  const [from, to] = [excerpt.from, excerpt.to];
  const lanes = (["signal", "rule", "reference"] as const).map((role) => excerpt.lanes.filter((lane) => lane.role === role)).flatMap((group) => group.map((lane, index) => ({ run: `${lane.role}-${index}-`, stretches: stretches(lane.steps, from, to) })));
  const all = lanes.flatMap((lane) => lane.stretches);
  const across: Place[] = [];
  const spans = (rows: readonly Row[], meant: readonly Stretch[]): void => {
    if (rows.length !== meant.length) across.push({ row: {}, field: `${meant.length} stretches`, of: [0] });
    else rows.forEach((row, index) => across.push({ row, field: "x", of: [meant[index]!.from] }, { row, field: "x2", of: [meant[index]!.to] }));
    for (const row of rows) sheet(row, "y", "y2");
  };
  const boxes = (color: string): Row[] => layers.filter((layer) => layer.mark === "rect" && layer.color === color).flatMap(({ rows }) => rows);
  spans(boxes("var(--wash)"), all.filter(({ state }) => state === "on"));
  spans(boxes("url(#unknown-hatch)"), all.filter(({ state }) => state === "unknown"));
  const line = rowsOf(layers, "line");
  for (const { run, stretches: meant } of lanes) {
    const known = meant.filter(({ state }) => state !== "unknown").flatMap((one) => [{ ...one, at: one.from }, { ...one, at: one.to }]);
    const points = line.filter((row) => String(row.run).startsWith(run));
    points.forEach((row, index) => across.push({ row, field: "x", of: [known[index]!.at] }));
    even(points.map((row, index) => ({ row, field: "y", of: [known[index]!.state === "on" ? 1 : 0] })));
  }
  if (name === "near") spans(boxes("var(--ink)"), [{ from: Math.max(from, miss!.from), to: Math.min(to, miss!.to), state: "on" }]);
  else for (const row of rowsOf(layers, "point")) across.push({ row, field: "x", of: [firing!.at] });
  for (const row of rowsOf(layers, "point")) sheet(row, "y");
  even(across);
  const times = marked.map((instant) => clock.time(instant));
  const words = [...excerpt.lanes.map(({ label }) => label), `local time, ${clock.offset(from)}`, ...times.flatMap((time) => [`would ${rule.act} ${time}`, `wanted ${time}`, `one signal away ${time}`])];
  return { words: [...words, ...ticks(layers, clock, from, across)], left: left() };
};

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly state: string;
}

/** What lies between the steps of a lane; before the first, nothing is known. */
function stretches(steps: readonly (readonly [number, string])[], from: number, to: number): Stretch[] {
  const starts = [{ at: from, state: "unknown" }, ...steps.map(([instant, state]) => ({ at: Math.max(from, instant), state }))];
  return starts.map(({ at, state }, index) => ({ from: at, to: Math.min(to, starts[index + 1]?.at ?? to), state })).filter((one) => one.to > one.from);
}

/** The time at each hair line, taken back from its place: what a tick may say. */
function ticks(layers: readonly DrawnLayer[], clock: LocalClock, from: number, across: readonly Place[]): string[] {
  const places = across.map(({ row, field, of }) => [numberOf(row, field), of[0]!] as const).toSorted(([a], [b]) => a - b);
  const [[left, first], [right, last]] = [places[0]!, places.at(-1)!];
  const hairs = layers.filter(({ mark, color }) => mark === "rule" && color === "var(--hair)").flatMap(({ rows }) => rows);
  return hairs.flatMap((row) => {
    const at = Math.round((first + ((numberOf(row, "x") - left) / (right - left)) * (last - first)) / 1000) * 1000;
    return at < from ? [] : [clock.time(at), clock.shortTime(at)];
  });
}
