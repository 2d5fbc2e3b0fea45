import { lagEdges } from "../../src/report/charts/lag-rows.js";
import { amountText, countText, lengthText, shareText } from "../../src/report/format.js";
import { sensorOrigins } from "./chart-origins-sensors.js";
import { timing } from "./chart-origins-timing.js";
import { type Origin, rowsOf, type Source } from "./chart-source.js";
import { account, numberOf, type Place, type Row } from "./drawn-numbers.js";
import type { RuleFinding } from "../../src/result/rules.js";

const HOUR_SECONDS = 3600;
const placeInKey = (row: Row): number => Number(String(row.row).slice(0, 6));
const ruleAt = ({ findings, at }: Source): RuleFinding => findings.rules[at[0]!]!;

/** `agreement`: signals.N.agreement. */
const agreement: Origin = ({ findings, layers }) => {
  const { same, left } = account(layers);
  for (const row of rowsOf(layers, "rule", "tick", "point", "text")) {
    const { value, low, high } = findings.signals[placeInKey(row)]!.agreement;
    same(row, "value", value);
    same(row, "low", low ?? value);
    same(row, "high", high ?? value);
  }
  return { words: [], left: left() };
};

/** `bays`: bays.N.faults. */
const bays: Origin = ({ findings, layers }) => {
  const { same, left } = account(layers);
  for (const row of rowsOf(layers, "point", "bar", "tick", "text")) {
    const { count, expected, controlLow, controlHigh } = findings.bays[placeInKey(row)]!.faults;
    same(row, "count", count);
    same(row, "expected", expected);
    same(row, "low", controlLow);
    same(row, "high", controlHigh);
  }
  return { words: [], left: left() };
};

/** `lags`: how many of episodes.*.participants.*.lagSeconds lie between the edges the axis names; heights are even in the share of the row's largest count. */
const lags: Origin = ({ findings, layers }) => {
  const { same, even, sheet, left } = account(layers);
  const participants = findings.episodes.flatMap((episode) => episode.participants);
  const named = new Map(layers[0]!.rows.map((row) => [placeInKey(row), String(row.row).slice(6)]));
  const heights: Place[] = [];
  for (const [key, signal] of named) {
    const bars = rowsOf(layers, "rect").filter((row) => placeInKey(row) === key);
    const counts = bars.map((row) => {
      const bin = Math.round(numberOf(row, "x") - 0.06);
      same(row, "x", bin + 0.06);
      same(row, "x2", bin + 0.94);
      const [from, to] = [lagEdges[bin - 1] ?? -Infinity, lagEdges[bin] ?? Infinity];
      return participants.filter((one) => one.signal === signal && one.lagSeconds !== null && one.lagSeconds >= from && one.lagSeconds < to).length;
    });
    bars.forEach((row, index) => heights.push({ row: { height: numberOf(row, "y") - numberOf(row, "y2") }, field: "height", of: [counts[index]! / Math.max(...counts)] }));
    for (const row of bars) sheet(row, "y", "y2");
  }
  even(heights);
  for (const row of rowsOf(layers, "rule")) sheet(row, "y", "zero");
  return { words: [], left: left() };
};

/** `drills-N`: rules.N.drills; marks go by what was drilled and then by fault, sizes are even in the counts. */
const drills: Origin = (source) => {
  const { same, even, sheet, left } = account(source.layers);
  const all = ruleAt(source).drills;
  const targets = [...new Set(all.map(({ on, name }) => `${on} ${name}`))];
  const faults = [...new Set(all.map(({ fault }) => fault))];
  const sorted = all.toSorted((a, b) => targets.indexOf(`${a.on} ${a.name}`) - targets.indexOf(`${b.on} ${b.name}`));
  const marks = rowsOf(source.layers, "point");
  const placed = (["wrongGained", "unverifiedGained", "missedGained"] as const).flatMap((effect) => {
    const rows = marks.filter((row) => row.effect === effect);
    const drilled = sorted.filter((drill) => drill[effect] > 0);
    if (rows.length !== drilled.length) return [{ row: {}, fault: 0, count: Number.NaN }];
    return rows.map((row, index) => ({ row, fault: faults.indexOf(drilled[index]!.fault), count: drilled[index]![effect] }));
  });
  for (const { row, count } of placed) same(row, "count", count);
  even(placed.map(({ row, fault }) => ({ row, field: "x", of: [fault] })));
  even(placed.map(({ row, count }) => ({ row, field: "size", of: [count] })));
  for (const { row } of placed) sheet(row, "y");
  return { words: [...placed.map(({ count }) => countText(count)), ...faults.map((fault) => fault.replace(" by ", " "))], left: left() };
};

/** `tuning-N`: rules.N.tuning, a point a setting: share missed and wrong a year on the rest of the history, and on the first part. */
const tuning: Origin = (source) => {
  const { tuning: tried, wrongPerYear, missedShare } = ruleAt(source);
  const { same, sheet, left } = account(source.layers);
  const settings = [tried!.present, ...(tried!.suggestion === null ? [] : [tried!.suggestion]), ...tried!.frontier];
  const near = (row: Row, fields: readonly [string, string], part: RuleFinding["wrongPerYear"]["limit"][]): boolean => Math.abs(numberOf(row, fields[0]) - (part[0] ?? NaN)) < 1e-9 && Math.abs(numberOf(row, fields[1]) - (part[1] ?? NaN)) < 1e-9;
  for (const row of rowsOf(source.layers, "point", "rule", "text")) {
    if (row.label === "limit") {
      if (row.y === undefined) same(row, "x", missedShare.limit);
      else {
        same(row, "y", wrongPerYear.limit);
        sheet(row, "x");
      }
      continue;
    }
    const joined = row.x2 !== undefined;
    const of = settings.find(({ heldOut, train }) =>
      joined
        ? near(row, ["x2", "y2"], [heldOut.missedShare.value, heldOut.wrongPerYear.value]) && near(row, ["x", "y"], [train.missedShare.value, train.wrongPerYear.value])
        : near(row, ["x", "y"], [heldOut.missedShare.value, heldOut.wrongPerYear.value]),
    );
    if (of !== undefined) sheet(row, "x", "y", "x2", "y2");
  }
  const delays = settings.flatMap(({ heldOut }) => (heldOut.delay.value === null ? [] : [`${lengthText(heldOut.delay.value)} late`]));
  return { words: delays.flatMap((delay) => [delay, `as it is, ${delay}`, `suggested, ${delay}`]), left: left() };
};

/** `band-N`: bands.N, metres as centimetres; a bar holds the counts of all bins between its ends. */
const band: Origin = ({ findings, layers, at }) => {
  const { histogram, present, suggested, occupied, empty, otherModes } = findings.bands[at[0]!]!;
  const { same, sheet, left } = account(layers);
  const ends = [present, ...(suggested === null ? [] : [suggested])].map(({ nearMetres, farMetres }) => [100 * nearMetres, 100 * farMetres] as const);
  const places = [present.nearMetres, suggested?.nearMetres, occupied?.metres, empty?.metres, ...otherModes.map(({ metres }) => metres)].map((metres) => 100 * (metres ?? NaN));
  for (const row of rowsOf(layers, "rect", "point", "text")) {
    const x = numberOf(row, "x");
    if (row.count !== undefined) {
      const [first, last] = [x, numberOf(row, "x2")].map((end) => Math.round((end / 100 - histogram!.from) / histogram!.width)) as [number, number];
      same(row, "x", 100 * (histogram!.from + first * histogram!.width));
      same(row, "x2", 100 * (histogram!.from + last * histogram!.width));
      same(row, "count", histogram!.counts.slice(first, last).reduce((sum, one) => sum + one, 0));
    } else if (row.x2 !== undefined) {
      if (ends.some(([near, far]) => Math.abs(near - x) < 1e-9 && Math.abs(far - numberOf(row, "x2")) < 1e-9)) sheet(row, "x", "x2");
    } else if (places.some((place) => Math.abs(place - x) < 1e-9)) sheet(row, "x");
  }
  return { words: [], left: left() };
};

/** `margin-N`: rules.N.margin.hoursAtWhileWrong, on an axis that closes up: log(1 + 10 hours). */
const margin: Origin = (source) => {
  const hoursAt = ruleAt(source).margin.hoursAtWhileWrong;
  const { even, sheet, left } = account(source.layers);
  const sum = (wanted: (margin: number | null) => boolean): number => hoursAt.filter(([at]) => wanted(at)).reduce((all, [, hours]) => all + hours, 0);
  const meant = (label: string): number => (label === "condition held" ? sum((at) => at === 0) : label === "out of reach" ? sum((at) => at === null) : label === "8 or more" ? sum((at) => at !== null && at >= 8) : sum((at) => at === Number(label.split(" ")[0])));
  const labels = source.layers.filter(({ mark }) => mark === "text").flatMap(({ rows }) => rows).filter((row) => row.x === 0);
  const bars = rowsOf(source.layers, "rect").map((row) => ({ row, hours: meant(String(labels.find((label) => Math.abs(numberOf(label, "y") - (numberOf(row, "y") + numberOf(row, "y2")) / 2) < 0.01)?.label)) }));
  const ticks = new Map([["0", 0], ["6 min", 0.1], ["1 h", 1], ["10 h", 10], ["100 h", 100], ["1000 h", 1000]]);
  const foot = Math.max(...labels.map((row) => numberOf(row, "y")));
  const ticked = source.layers.filter(({ mark }) => mark === "text").flatMap(({ rows }) => rows).filter((row) => ticks.has(String(row.label)) && numberOf(row, "y") > foot);
  even([...bars.map(({ row, hours }) => ({ row, field: "x2", of: [Math.log1p(hours * 10)] })), ...ticked.map((row) => ({ row, field: "x", of: [Math.log1p(ticks.get(String(row.label))! * 10)] }))]);
  for (const { row } of bars) sheet(row, "x", "y", "y2");
  return { words: [...labels.map(({ label }) => String(label)), ...ticked.map(({ label }) => String(label)), ...labels.map(({ label }) => lengthText(meant(String(label)) * HOUR_SECONDS))], left: left() };
};

/** `claims-N`: rules.N.cumulated.claims, or rules.N.claims, on a logarithmic axis; by design discs, by counting squares of another colour. */
const claims: Origin = (source) => {
  const { cumulated, claims: alone, wrongPerYear: { limit } } = ruleAt(source);
  const { even, left } = account(source.layers);
  const all = cumulated?.claims ?? alone;
  const places = (["byCounting", "byDesign"] as const).flatMap((road) => {
    const stored = all.flatMap((one) => (one[road] === null ? [] : [{ months: one.moreMonths, amount: one[road] }]));
    const lines = source.layers.filter(({ mark, color }) => mark === "line" && color === (road === "byDesign" ? "var(--blue)" : "var(--ink)"));
    const points = source.layers.filter(({ mark, color }) => mark === "point" && color === (road === "byDesign" ? "var(--blue)" : "var(--paper)"));
    return [...lines, ...points].flatMap(({ rows }) => (rows.length === stored.length ? rows.map((row, index) => ({ row, ...stored[index]! })) : []));
  });
  const words = source.layers.filter(({ mark }) => mark === "text").flatMap(({ rows }) => rows);
  const limits = source.layers.filter(({ mark, color, dash }) => mark === "rule" && color === "var(--brick)" && dash === "2,3").flatMap(({ rows }) => rows);
  const ticks = words.filter(({ label }) => /^[\d.,]+$/.test(String(label)));
  const later = words.filter(({ label }) => /^(?:now|\+\d+)$/.test(String(label)));
  even(places.map(({ row, months }) => ({ row, field: "x", of: [months] })).concat(later.map((row) => ({ row, field: "x", of: [Number(String(row.label).replace("now", "0"))] }))));
  even([
    ...places.map(({ row, amount }) => ({ row, field: "y", of: [Math.log(amount)] })),
    ...ticks.map((row) => ({ row, field: "y", of: [Math.log(Number(String(row.label).replaceAll(",", "")))] })),
    ...limits.map((row) => ({ row, field: "y", of: [Math.log(limit!)] })),
  ]);
  return { words: [...ticks, ...later].map(({ label }) => String(label)).concat(limit === null ? [] : [`limit ${amountText(limit)}`]), left: left() };
};

/** `change-N`: changes.N, a point a day, its limits, centre and levels; metres as centimetres. */
const change: Origin = ({ findings, clock, layers, at }) => {
  const { points, chart, before, after, since, unit } = findings.changes[at[0]!]!;
  const { even, sheet, left } = account(layers);
  const marks = rowsOf(layers, "point").toSorted((a, b) => numberOf(a, "x") - numberOf(b, "x"));
  even(marks.map((row, index) => ({ row, field: "x", of: [points[index]![0]] })));
  const [box] = rowsOf(layers, "rect");
  // Two dashed levels: before the change and after it.
  const levels = layers.filter(({ mark, dash }) => mark === "rule" && dash === "8,3").flatMap(({ rows }) => rows);
  const told = [before, after].filter((level) => level !== null);
  even([
    ...marks.map((row, index) => ({ row, field: "y", of: [points[index]![1]] })),
    { row: box!, field: "y", of: [chart!.high] },
    { row: box!, field: "y2", of: [chart!.low] },
    ...levels.map((row, index) => ({ row, field: "y", of: [told[index]!] })),
  ]);
  sheet(box!, "x", "x2");
  const factor = unit === "metres" ? 100 : 1;
  const ends = [...points.map(([, value]) => value), chart!.high, chart!.low, chart!.centre, ...told].map((value) => amountText(value * factor));
  const days = points.map(([instant]) => clock.day(instant).replace(/ \d{4}$/, ""));
  return { words: [...ends, ...days, ...(since === null ? [] : [`since ${clock.day(since)}`])], left: [...left(), ...(marks.length === points.length ? [] : ["not a mark a point"])] };
};

/** `months`: months.series.N.points.M, and `month-clocks`: months.clocks.N.points.M; heights over the row's floor are even in the size of the value. */
const months: Origin = ({ findings, layers }) => {
  const { even, sheet, left } = account(layers);
  const { series, clocks } = findings.months!;
  const signed = (value: number): string => `${value > 0 ? "+" : ""}${amountText(value, 2)}`;
  const moved = (values: readonly (number | null)[]): (number | null)[] => values.map((value) => (value === null ? null : Math.round((value - values.find((one) => one !== null)!) * 1000) / 10));
  const lists = new Map<string, (number | null)[][]>([
    ["visits missed", series.map(({ points }) => points.map(({ missedShare }) => missedShare.value))],
    ["phantoms", series.map(({ points }) => points.map(({ phantomsPer30Days }) => phantomsPer30Days.value))],
    ["time known", series.map(({ points }) => points.map(({ knownShare }) => knownShare))],
    ["moved, cm", series.map(({ points }) => moved(points.map(({ occupiedMetres }) => occupiedMetres.value)))],
    ["later by, s", clocks.map(({ points }) => points.map(({ offsetSeconds }) => offsetSeconds.value))],
    ["drift, s a day", clocks.map(({ points }) => points.map(({ driftSecondsPerDay }) => driftSecondsPerDay.value))],
  ]);
  const heads = layers.filter(({ mark }) => mark === "text").flatMap(({ rows }) => rows).filter(({ label }) => lists.has(String(label))).toSorted((a, b) => numberOf(a, "x") - numberOf(b, "x"));
  const words: string[] = [];
  for (const [column, head] of heads.entries()) {
    const end = column + 1 < heads.length ? numberOf(heads[column + 1]!, "x") : Infinity;
    const marks = rowsOf(layers, "point").filter((row) => numberOf(row, "x") >= numberOf(head, "x") && numberOf(row, "x") < end);
    const stored = lists.get(String(head.label))!.flatMap((values, row) => values.flatMap((value, period) => (value === null ? [] : [{ row, period, value }])));
    // A hair line runs below each row; a mark belongs to the first one at or below it.
    const floors = layers.filter(({ mark, color }) => mark === "rule" && color === "var(--hair)").flatMap(({ rows }) => rows).filter((row) => row.x === head.x).map((row) => numberOf(row, "y")).toSorted((a, b) => a - b);
    const places = marks.flatMap((mark) => {
      const is = stored.find(({ row, period, value }) => period === mark.period && value === mark.value && row === floors.findIndex((floor) => floor >= numberOf(mark, "y")));
      return is === undefined ? [] : [{ mark, is }];
    });
    even(places.map(({ mark, is }) => ({ row: mark, field: "y", of: [is.row, Math.abs(is.value)] })));
    even(places.map(({ mark, is }) => ({ row: mark, field: "x", of: [is.period] })));
    for (const { mark } of places) sheet(mark, "value", "period");
    words.push(...stored.flatMap(({ value }) => [shareText(value, 2), amountText(value, 2), signed(value)]));
  }
  return { words, left: left() };
};

/** Where the numbers of each kind of chart come from, by the first word of its name in drawings.ts. */
export const origins: Readonly<Record<string, Origin>> = { agreement, bays, lags, drills, tuning, band, margin, claims, change, firing: timing, near: timing, months, "month-clocks": months, ...sensorOrigins };
