import { amountText } from "../../src/report/format.js";
import { type Origin, rowsOf } from "./chart-source.js";
import { account, numberOf, type Place, type Row } from "./drawn-numbers.js";

/** `sensor-own-N`, `sensor-twin-N`: readings of sensors.N.worst.picture; places across are even in time, places up in the sensor's unit. */
const meter = (whose: "own" | "twin"): Origin => ({ findings, clock, layers, at }) => {
  const { worst } = findings.sensors![at[0]!]!;
  const { picture } = worst!;
  const { from, to, expected } = picture!;
  const { meter: read } = picture![whose]!;
  const { even, sheet, left } = account(layers);
  const across: Place[] = [];
  const up: Place[] = [];
  const [all, bad] = layers.filter(({ mark }) => mark === "line").map(({ rows }) => rows);
  const told = [...read!.readings.map(([seconds, value]) => ({ at: from + seconds * 1000, value })), { at: to, value: read!.readings.at(-1)![1] }];
  const hold = (row: Row, one: { readonly at: number; readonly value: number | null }): void => {
    across.push({ row, field: "x", of: [one.at] });
    if (typeof row.y === "number") up.push({ row, field: "y", of: [one.value ?? NaN] });
  };
  all!.forEach((row, i) => hold(row, told[i] ?? { at: NaN, value: NaN }));
  // The bad stretch: its ends, and readings within it.
  (bad ?? []).forEach((row, i, rows) => {
    const same = all!.findIndex((one) => one.y === row.y && (i === 0 || i === rows.length - 1 || one.x === row.x));
    hold(row, { at: i === 0 ? worst!.from : i === rows.length - 1 ? worst!.to : (told[same]?.at ?? NaN), value: told[same]?.value ?? NaN });
  });
  for (const row of rowsOf(layers, "rect")) {
    const isBand = row.x === 0 && row.x2 === 1;
    const [low, high] = isBand ? [read!.band.near, read!.band.far] : expected!;
    up.push({ row, field: "y", of: [low] }, { row, field: "y2", of: [high] });
    across.push({ row, field: "x", of: [isBand ? from : worst!.from] }, { row, field: "x2", of: [isBand ? to : worst!.to] });
  }
  even(across);
  even(up);
  const ticks = rowsOf(layers, "rule");
  for (const row of [...ticks, ...rowsOf(layers, "text")]) sheet(row, "x", "x2", "y", "y2");
  const times = [...ticks, ...rowsOf(layers, "text")].filter((row) => typeof row.x === "number").map((row) => from + numberOf(row, "x") * (to - from)).map((instant) => Math.round(instant / 60_000) * 60_000);
  const values = [0, read!.band.near, read!.band.far, ...read!.readings.map(([, value]) => value ?? 0)];
  const band = `${amountText(read!.band.near)}\u2013${amountText(read!.band.far)} ${read!.unit}`;
  return { words: [...times.flatMap((instant) => [clock.shortTime(instant), clock.day(instant), clock.date(instant), clock.day(instant).split(" ").slice(0, 2).join(" ")]), ...values.map((value) => `${amountText(value)} ${read!.unit}`), "0", band, `vehicle, ${band}`], left: left() };
};

/** `typical-day`: typicalDay.subjects, a corner a half-hour; marks below are hours at which a sensor of the subject differed. */
const typicalDay: Origin = ({ findings, clock, layers }) => {
  const { subjects } = findings.typicalDay!;
  const { same, even, sheet, left } = account(layers);
  const [areas, lines] = [layers.filter(({ mark }) => mark === "area"), layers.filter(({ mark }) => mark === "line")].map((some) => some.flatMap(({ rows }) => rows));
  for (const [rows, sort] of [[areas!, "weekdays"], [lines!, "weekends"]] as const) {
    for (const one of subjects) {
      const own = rows.filter((row) => String(row.run).startsWith(`${one.subject} `));
      const meant = one[sort].halfHours.flatMap((share, n, shares) => (share === null ? [] : [{ hour: n / 2, share }, ...((shares[n + 1] ?? null) === null ? [{ hour: (n + 1) / 2, share }] : [])]));
      own.forEach((row, i) => same(row, "x", meant[i]!.hour));
      if (own.length > 1) even(own.map((row, i) => ({ row, field: "y", of: [meant[i]!.share] })));
      for (const row of own) sheet(row, "y", "y2");
    }
  }
  const hourOf = (seconds: number): number => {
    const at = findings.period.from + seconds * 1000;
    return ((at + clock.offsetMs(at)) % 86_400_000) / 3_600_000;
  };
  const edges = [0, 24, ...(findings.sensors ?? []).flatMap(({ stretches: { differed } }) => differed.flatMap(([a, b]) => [hourOf(a), hourOf(b)]))];
  // A mark is widened to a tenth of an hour at the least.
  const near = (hour: number): number => edges.reduce((best, edge) => (Math.abs(edge - hour) < Math.abs(best - hour) ? edge : best));
  const off = rowsOf(layers, "rect").filter(({ y2, x, x2 }) => typeof y2 === "number" && !(x === 0 && x2 === 6) && !(x === 22 && x2 === 24)).flatMap((row) => (["x", "x2"] as const).filter((field) => Math.abs(near(numberOf(row, field)) - numberOf(row, field)) > 0.1).map((field) => `rect: ${field} of ${JSON.stringify(row)}`));
  for (const row of rowsOf(layers, "rect", "rule", "text")) sheet(row, "x", "x2", "y", "y2");
  const clockText = (minutes: number): string => `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
  const usual = subjects.flatMap(({ usual: one }) => (one === null ? [] : [["out", "home"], ["leaves", "back"], ["in", "out"]].map(([a, b]) => `${a!} ${clockText(one.first)}, ${b!} ${clockText(one.second)}`)));
  const why = (findings.sensors ?? []).flatMap((one) => [`${one.signal}: ${one.why.join("; ")}`, `${one.signal}: ${one.why[0]!}`, one.why[0]!]);
  const names = findings.site.subjects.flatMap(({ id, vehicle }) => (vehicle === null ? [id] : [`${vehicle} in ${id}`]));
  return { words: [...usual, ...why, ...names, "00:00", "06:00", "18:00", "24:00"], left: [...left(), ...off] };
};

/** Charts of sensors and of the typical day, by their names. */
export const sensorOrigins: Readonly<Record<string, Origin>> = { "sensor-own": meter("own"), "sensor-twin": meter("twin"), "typical-day": typicalDay };
