/**
 * A depot of bays behind a gate, with planted faults, as export files and a site file. It shares no code with the program:
 * its random numbers, its writing of stamps and its sensors are its own. Local time is UTC.
 */
export const MINUTE = 60_000;
export const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

/** A fault of one place, from a day of the month on and for so many days. */
export type Planted =
  | { readonly mode: "stuck" | "dark"; readonly sensor: string; readonly fromDay: number; readonly days: number }
  | { readonly mode: "chattering"; readonly sensor: string; readonly times: number }
  | { readonly mode: "missing turns"; readonly sensor: string; readonly share: number }
  | { readonly mode: "late"; readonly sensor: string; readonly minutes: number }
  | { readonly mode: "drifting"; readonly sensor: string; readonly centimetres: number }
  | { readonly mode: "restarting"; readonly board: string; readonly times: number }
  | { readonly mode: "clock"; readonly source: string; readonly minutes: number }
  | { readonly mode: "swapped"; readonly sensors: readonly [string, string] }
  | { readonly mode: "renamed"; readonly sensor: string }
  | { readonly mode: "cut off"; readonly source: string; readonly day: number }
  | { readonly mode: "missing export"; readonly source: string; readonly fromDay: number; readonly days: number };

/** What a depot is like. */
export interface Depot {
  readonly name: string;
  readonly seed: number;
  readonly bays: number;
  /** A third witness in every bay; without it two meters that differ cannot be told apart. */
  readonly tags: boolean;
  readonly rule: boolean;
  /** First instant of the month, and its days. */
  readonly from: number;
  readonly days: number;
  readonly planted: readonly Planted[];
  /** Minutes between readings of a meter. */
  readonly everyMinutes?: number;
  readonly firmware?: (sensor: string) => string;
}

/** A file by its name. */
export type Files = Readonly<Record<string, string>>;

interface Stay {
  readonly from: number;
  readonly to: number;
}

interface Row {
  readonly at: number;
  readonly what: string;
  readonly says: string;
}

/** xorshift32, by Marsaglia (2003), with a scrambled seed. */
export function chanceOf(seed: number): () => number {
  let state = (Math.imul(seed + 1, 0x9e3779b1) ^ 0x5bd1e995) >>> 0 || 1;
  const next = (): number => {
    state ^= state << 13;
    state >>>= 0;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 4_294_967_296;
  };
  for (let i = 0; i < 20; i += 1) next();
  return next;
}

/** A month of a depot: its files (`site.yaml` and its exports), and what share of its changes each sensor got wrong. */
export interface DepotMonth {
  readonly files: Files;
  /** Changes without a report of the same way within five minutes, and false reports, for each true change. */
  readonly wrongShare: (sensors: readonly string[]) => number | null;
}

/** The depot's month. */
export function depotMonth(depot: Depot): DepotMonth {
  const chance = chanceOf(depot.seed);
  const stays = Array.from({ length: depot.bays }, () => staysOf(depot, chance));
  const rows = new Map<string, Row[]>([["meters", []], ["contacts", []], ...(depot.tags ? [["tags", []] as [string, Row[]]] : [])]);
  stays.forEach((own, i) => {
    for (const kind of ["overhead", "wall", ...(depot.tags ? ["tag"] : [])]) {
      const sensor = `bay-${i + 1}-${kind}`;
      const read = swappedWith(depot, sensor);
      const seen = read === null ? own : stays[Number(/\d+/.exec(read)?.[0] ?? 1) - 1]!;
      rows.get(kind === "tag" ? "tags" : "meters")!.push(...(kind === "tag" ? tagRows(sensor, seen, depot, chance) : meterRows(sensor, seen, depot, chance)));
    }
  });
  const openings = openingsOf(stays, depot);
  rows.get("contacts")!.push(...gateRows(openings, depot, chance));
  restarted(rows, depot, chance);
  return {
    files: { "site.yaml": siteText(depot), ...Object.fromEntries([...rows].flatMap(([source, all]) => filesOf(source, all, depot))) },
    wrongShare: (sensors) => {
      const each = sensors.map((sensor) => {
        const bay = /^bay-(\d+)/.exec(sensor)?.[1];
        const [source, all] = [...rows].find(([, of]) => of.some(({ what }) => what === sensor)) ?? ["", []];
        return comparedWith(bay === undefined ? openings : stays[Number(bay) - 1]!, all.filter(({ what }) => what === sensor), clockErrorMs(source, depot), depot);
      });
      const [turns, wrong] = [each.reduce((so, one) => so + one.turns, 0), each.reduce((so, one) => so + one.wrong, 0)];
      return turns === 0 ? null : Math.min(1, wrong / turns);
    },
  };
}

/** A change is told if the sensor told of one the same way within this time. */
const TOLD_MS = 5 * MINUTE;

/** How many true changes there were, and how many were not told; two changes that nobody made are one false report. */
function comparedWith(ons: readonly Stay[], rows: readonly Row[], offMs: number, { from, days }: Depot): { turns: number; wrong: number } {
  const edges = ons.flatMap((one) => [{ at: one.from, on: true }, { at: one.to, on: false }]).filter(({ at }) => at > from && at < from + days * DAY);
  const states = rows.toSorted((a, b) => a.at - b.at).map(({ at, says }) => ({ at: at + offMs, on: says === "in" || says === "open" || (Number(says) > 0 && Number(says) < 200) }));
  const told = states.filter(({ on }, i) => i > 0 && on !== states[i - 1]!.on);
  const free = new Set(told);
  let missed = 0;
  for (const edge of edges) {
    const match = told.find((one) => free.has(one) && one.on === edge.on && Math.abs(one.at - edge.at) <= TOLD_MS);
    if (match === undefined) missed += 1;
    else free.delete(match);
  }
  return { turns: edges.length, wrong: missed + Math.ceil(free.size / 2) };
}

/** Out on working days, home at night; sometimes home for an hour at noon, sometimes out on a free day. */
function staysOf({ from, days }: Depot, chance: () => number): Stay[] {
  const outs: Stay[] = [];
  for (let day = 0; day < days; day += 1) {
    const start = from + day * DAY;
    const isFree = new Date(start).getUTCDay() % 6 === 0;
    if (isFree && chance() < 0.7) continue;
    const leaves = start + 6 * HOUR + chance() * 3 * HOUR;
    const back = start + 15 * HOUR + chance() * 3.5 * HOUR;
    if (chance() < 0.35) {
      const noon = start + 11 * HOUR + chance() * 2 * HOUR;
      outs.push({ from: leaves, to: noon }, { from: noon + 40 * MINUTE + chance() * HOUR, to: back });
    } else outs.push({ from: leaves, to: back });
  }
  const edges = outs.flatMap((one) => [Math.round(one.from), Math.round(one.to)]);
  const stays: Stay[] = [];
  let began = from;
  for (let i = 0; i < edges.length; i += 2) {
    stays.push({ from: began, to: edges[i]! });
    began = edges[i + 1]!;
  }
  return [...stays, { from: began, to: from + days * DAY }];
}

/** What a sensor says over the month, as changes: with its own slips and its planted fault. */
function saidBy(sensor: string, stays: readonly Stay[], depot: Depot, chance: () => number): { at: number; on: boolean }[] {
  const own = depot.planted.filter((one) => "sensor" in one && one.sensor === sensor);
  const missing = own.find((one) => one.mode === "missing turns");
  const late = own.find((one) => one.mode === "late");
  const chatter = own.find((one) => one.mode === "chattering");
  const slips = missing === undefined ? 0.005 : missing.share;
  const changes: { at: number; on: boolean }[] = [{ at: depot.from, on: true }];
  const lag = (): number => Math.round(3_000 + chance() * 30_000 + (late === undefined ? 0 : late.minutes * MINUTE));
  for (const [i, { to }] of stays.entries()) {
    const next = stays[i + 1];
    if (next === undefined) break;
    // A slip passes over the whole absence: one that missed the leaving has nothing to tell of the coming back.
    if (chance() < slips) continue;
    changes.push({ at: to + lag(), on: false }, { at: next.from + lag(), on: true });
  }
  const end = depot.from + depot.days * DAY;
  const falseReports = chatter === undefined ? (chance() < 0.4 ? 1 : 0) : chatter.times;
  for (let i = 0; i < falseReports; i += 1) {
    const at = Math.round(depot.from + chance() * (end - depot.from));
    const until = at + Math.round(MINUTE * (3 + chance() * 12));
    const before = changes.findLast((one) => one.at <= at);
    const next = changes.find((one) => one.at > at);
    if (before === undefined || until + 12 * MINUTE > (next?.at ?? end) || at - before.at < 12 * MINUTE) continue;
    changes.splice(changes.indexOf(before) + 1, 0, { at, on: !before.on }, { at: until, on: before.on });
  }
  const stuck = spanned(sensor, "stuck", depot);
  if (stuck === undefined) return changes;
  const [from, to] = [depot.from + stuck.fromDay * DAY + 3 * HOUR, depot.from + (stuck.fromDay + stuck.days) * DAY + 3 * HOUR];
  const held = changes.findLast((one) => one.at <= from)?.on ?? true;
  const after = changes.findLast((one) => one.at <= to)?.on ?? held;
  return [...changes.filter((one) => one.at <= from), ...(after === held || to >= end ? [] : [{ at: to, on: after }]), ...changes.filter((one) => one.at > to)];
}

type Spanned = Extract<Planted, { readonly fromDay: number }>;

function spanned(sensor: string, mode: Spanned["mode"], { planted }: Depot): Spanned | undefined {
  return planted.find((one): one is Spanned => one.mode === mode && "sensor" in one && one.sensor === sensor);
}

function darkSpan(sensor: string, depot: Depot): Stay | null {
  const dark = spanned(sensor, "dark", depot);
  return dark !== undefined ? { from: depot.from + dark.fromDay * DAY, to: depot.from + (dark.fromDay + dark.days) * DAY } : null;
}

function meterRows(sensor: string, stays: readonly Stay[], depot: Depot, chance: () => number): Row[] {
  const said = saidBy(sensor, stays, depot, chance);
  const drift = depot.planted.find((one) => one.mode === "drifting" && one.sensor === sensor);
  const perMs = drift?.mode === "drifting" ? drift.centimetres / (depot.days * DAY) : 0;
  const dark = darkSpan(sensor, depot);
  // Where a meter hangs does not change from month to month.
  const hung = chanceOf(Buffer.from(`${depot.name} ${sensor}`).reduce((so, byte) => (Math.imul(so, 31) + byte) >>> 0, 7))();
  const [near, far] = sensor.endsWith("overhead") ? [120 + hung * 15, 240] : [60 + hung * 15, 310];
  const metres = (at: number, on: boolean): string => ((on ? near : far) + perMs * (at - depot.from) * (on ? 1 : 0) + (chance() - 0.5) * 2.4).toFixed(1);
  const end = depot.from + depot.days * DAY;
  const every = (depot.everyMinutes ?? 30) * MINUTE;
  const rows: Row[] = [];
  // Now and then a meter is quiet for an hour or two, as they are.
  const lapses = Array.from({ length: Math.floor(chance() * 3) }, () => depot.from + chance() * (end - depot.from));
  let step = 0;
  const add = (at: number, on: boolean): void => {
    if (dark !== null && at >= dark.from && at < dark.to) return;
    rows.push({ at, what: sensor, says: metres(at, on) });
  };
  for (let at = depot.from + Math.floor(chance() * every); at < end; at += every) {
    while (said[step + 1] !== undefined && said[step + 1]!.at <= at) step += 1;
    if (!lapses.some((one) => at > one && at < one + 2 * HOUR)) add(at, said[step]!.on);
  }
  for (const { at, on } of said) if (at < end) add(at, on);
  return rows;
}

function tagRows(sensor: string, stays: readonly Stay[], depot: Depot, chance: () => number): Row[] {
  const dark = darkSpan(sensor, depot);
  return saidBy(sensor, stays, depot, chance)
    .filter(({ at }) => at < depot.from + depot.days * DAY && !(dark !== null && at >= dark.from && at < dark.to))
    .map(({ at, on }) => ({ at, what: sensor, says: on ? "in" : "out" }));
}

/** The gate opens for everyone who passes. */
function openingsOf(stays: readonly (readonly Stay[])[], depot: Depot): Stay[] {
  const edges = stays.flatMap((own) => own.flatMap(({ from, to }) => [from, to])).filter((at) => at > depot.from && at < depot.from + depot.days * DAY).sort((a, b) => a - b);
  const openings: { from: number; to: number }[] = [];
  for (const at of edges) {
    const last = openings.at(-1);
    const one = { from: at - 40_000, to: at + 70_000 };
    if (last !== undefined && one.from < last.to + 90_000) last.to = one.to;
    else openings.push(one);
  }
  return openings;
}

/** Two contacts and a beam see the gate. */
function gateRows(openings: readonly Stay[], depot: Depot, chance: () => number): Row[] {
  return ["gate-rail", "gate-post", "gate-beam"].flatMap((sensor) => {
    const stuck = spanned(sensor, "stuck", depot);
    const missing = depot.planted.find((one) => one.mode === "missing turns" && one.sensor === sensor);
    const late = depot.planted.find((one) => one.mode === "late" && one.sensor === sensor);
    const dark = darkSpan(sensor, depot);
    const [from, to] = stuck !== undefined ? [depot.from + stuck.fromDay * DAY, depot.from + (stuck.fromDay + stuck.days) * DAY] : [Infinity, Infinity];
    const lagMs = late?.mode === "late" ? late.minutes * MINUTE : 0;
    return [
      { at: depot.from, what: sensor, says: "closed" },
      ...openings.flatMap((one): Row[] => {
        const slip = chance() < (missing?.mode === "missing turns" ? missing.share : 0.003);
        if (slip || (one.from >= from && one.from < to) || (dark !== null && one.from >= dark.from && one.from < dark.to)) return [];
        const lag = Math.round(chance() * 3_000) + lagMs;
        return [{ at: one.from + lag, what: sensor, says: "open" }, { at: one.to + lag, what: sensor, says: "closed" }];
      }),
    ];
  });
}

/** A board that restarts takes all its meters with it for some twenty minutes to three hours. */
function restarted(rows: Map<string, Row[]>, depot: Depot, chance: () => number): void {
  for (const fault of depot.planted) {
    if (fault.mode !== "restarting") continue;
    const kind = fault.board === "roof-board" ? "overhead" : "wall";
    const downs = Array.from({ length: fault.times }, () => {
      const from = depot.from + DAY + chance() * (depot.days - 2) * DAY;
      return { from, to: from + 2 * HOUR + chance() * 2 * HOUR };
    });
    const meters = rows.get("meters")!;
    rows.set("meters", meters.filter(({ at, what }) => !(what.endsWith(kind) && downs.some(({ from, to }) => at >= from && at < to))));
  }
}

function swappedWith(depot: Depot, sensor: string): string | null {
  for (const fault of depot.planted) {
    if (fault.mode !== "swapped") continue;
    const [one, other] = fault.sensors;
    if (sensor === one) return other;
    if (sensor === other) return one;
  }
  return null;
}

function clockErrorMs(source: string, { planted }: Depot): number {
  const late = planted.find((one) => one.mode === "clock" && one.source === source);
  return late?.mode === "clock" ? late.minutes * MINUTE : 0;
}

function csvOf(source: string, rows: readonly Row[], depot: Depot): string {
  const offMs = clockErrorMs(source, depot);
  const cut = depot.planted.find((one) => one.mode === "cut off" && one.source === source);
  const nameOf = (what: string): string => (depot.planted.some((one) => one.mode === "renamed" && one.sensor === what) ? what.replace(/(\d+)/, "0$1") : what);
  const inOrder = [...rows].sort((a, b) => a.at - b.at || (a.what < b.what ? -1 : 1));
  const kept = cut?.mode === "cut off" ? inOrder.filter(({ at }) => at < depot.from + cut.day * DAY + 9 * HOUR) : inOrder;
  const text = `at,what,says\n${kept.map(({ at, what, says }) => `${new Date(at + offMs).toISOString()},${nameOf(what)},${says}\n`).join("")}`;
  return cut === undefined ? text : text.slice(0, -17);
}

/** The files of a source: one, unless one is missing; then what was sent before it and after it. */
function filesOf(source: string, rows: readonly Row[], depot: Depot): [string, string][] {
  const gone = depot.planted.find((one) => one.mode === "missing export" && one.source === source);
  if (gone?.mode !== "missing export") return [[`${source}.csv`, csvOf(source, rows, depot)]];
  const [from, to] = [depot.from + gone.fromDay * DAY, depot.from + (gone.fromDay + gone.days) * DAY];
  const parts = [rows.filter(({ at }) => at < from), rows.filter(({ at }) => at >= to)];
  return parts.flatMap((part, i): [string, string][] => (part.length === 0 && i === 1 ? [] : [[`${source}${i === 0 ? "" : "-later"}.csv`, csvOf(source, part, depot)]]));
}

function siteText({ name, bays, tags, rule, everyMinutes = 30, firmware = () => "1.4" }: Depot): string {
  const numbers = Array.from({ length: bays }, (_, i) => i + 1);
  const lines = numbers.flatMap((n) => [
    `  bay-${n}-overhead: { on: bay-${n}, source: meters, channel: bay-${n}-overhead, kind: distance, unit: cm, present: [95, 165], expect: ${everyMinutes + 2}min, shares: [roof-board], model: mast-3, firmware: "${firmware(`bay-${n}-overhead`)}" }`,
    `  bay-${n}-wall: { on: bay-${n}, source: meters, channel: bay-${n}-wall, kind: distance, unit: cm, present: [35, 105], expect: ${everyMinutes + 2}min, shares: [wall-board], model: side-2, firmware: "${firmware(`bay-${n}-wall`)}" }`,
    ...(tags ? [`  bay-${n}-tag: { on: bay-${n}, source: tags, channel: bay-${n}-tag, kind: flag, occupied: in, empty: out, shares: [tag-reader], model: tag-1 }`] : []),
  ]);
  const contact = (id: string): string => `  ${id}: { on: gate, source: contacts, channel: ${id}, kind: contact, open: open, closed: closed, shares: [${id}-lead] }`;
  const lock = `rules:
  - name: lock the gate for the night
    act: lock
    when: { all: [ ${numbers.map((n) => `{ signal: bay-${n}-overhead, is: occupied }, { signal: bay-${n}-wall, is: occupied }`).join(", ")}, { signal: gate-rail, is: closed, held: 3min }, { signal: gate-post, is: closed } ] }
    right_when: { every: bays, is: occupied }
limits: { confidence: 0.95, lock: { wrong_per_year: 2, missed_share: 0.1, within: 15min } }
`;
  return `site: ${name}
timezone: UTC
sources:
  meters: { files: "meters*.csv", time: { column: at, written: iso }, signal: what, value: says }
  contacts: { files: contacts.csv, time: { column: at, written: iso }, signal: what, value: says }
${tags ? "  tags: { files: tags.csv, time: { column: at, written: iso }, signal: what, value: says }\n" : ""}bays: { ${numbers.map((n) => `bay-${n}: { vehicle: van-${n} }`).join(", ")} }
doors: { gate: {} }
signals:
${lines.join("\n")}
${["gate-rail", "gate-post", "gate-beam"].map(contact).join("\n")}
${rule ? lock : ""}`;
}
