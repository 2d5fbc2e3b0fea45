import { max, min } from "d3-array";
import { capitalised } from "../../ground/first-letter.js";
import type { Interval } from "../../ground/intervals.js";
import { DAY_MS, HOUR_MS } from "../../ground/units.js";
import { localText } from "../../intake/period.js";
import type { Readings } from "../../intake/readings.js";
import type { ExportFault } from "../../result/export-faults.js";
import type { LedgerRow } from "../../result/ledger.js";
import type { SignalSpec, Site, Source } from "../../site/site.js";
import type { Quiet } from "../signals/quiet.js";
import { renamedTo } from "./renamed.js";
import type { UnknownChannels } from "./unknown-channels.js";

/** A shorter time that is missing is the usual time between readings. Our own choice. */
const LEAST_MISSING_MS = HOUR_MS;
/** A source may say its first word some hours into the month. Our own choice. */
const LATEST_BEGIN_MS = DAY_MS;
/** Fewer rows of an unknown channel are a slip. Our own choice. */
const LEAST_ROWS = 10;

/** What faults of exports are found from. */
export interface ExportsSeen {
  readonly site: Site;
  readonly readings: ReadonlyMap<string, Readings>;
  readonly ledger: readonly LedgerRow[];
  readonly unknown: UnknownChannels;
  readonly quiets: readonly Quiet[];
  /** What is audited. */
  readonly period: Interval;
  /** The calendar month that was asked for and is over; null where none was. */
  readonly month: Interval | null;
}

/**
 * The faults of a site's exports, source by source. A source that says nothing to the end, or nothing at all, though
 * others do, is taken for an export that falls short: to ask for a file again costs less than a visit, and what is not
 * there proves nothing against a sensor.
 */
export function exportFaults(seen: ExportsSeen): ExportFault[] {
  const found = seen.site.sources.flatMap((source) => {
    const absent = absentOf(source, seen);
    return absent === null ? [...cutOffs(source, seen), ...renamed(source, seen), ...early(source, seen), ...holes(source, seen), ...late(source, seen)] : [absent];
  });
  return [...found, ...wholeMonth(seen, found)];
}

function signalsOf({ id }: Source, { site }: ExportsSeen): SignalSpec[] {
  return site.signals.filter(({ source }) => source === id);
}

/** A signal's first and last reading within the period; null without any. */
function heardWithin({ id }: SignalSpec, { readings, period }: ExportsSeen): Interval | null {
  const parts = (readings.get(id)?.parts ?? []).filter((one) => one.count > 0 && one.last >= period.from && one.first < period.to);
  const [from, to] = [min(parts, ({ first }) => first), max(parts, ({ last }) => last)];
  return from === undefined || to === undefined ? null : { from, to };
}

function absentOf(source: Source, seen: ExportsSeen): ExportFault | null {
  const signals = signalsOf(source, seen);
  if (signals.length === 0 || signals.some((one) => heardWithin(one, seen) !== null)) return null;
  if (renamed(source, seen).length > 0) return null;
  const { from, to } = seen.period;
  return {
    kind: "absent", source: source.id, file: null, signals: signals.map(({ id }) => id), from, to,
    text: `The export of ${source.id} holds nothing of this time.`,
    ask: `Ask for the export of ${source.id} for this time, and look whether it is among the files of the site file.`,
  };
}

function cutOffs(source: Source, seen: ExportsSeen): ExportFault[] {
  const { ledger, period, site } = seen;
  const rows = ledger.filter((one) => one.source === source.id);
  return rows.flatMap(({ file, cutOff, last }): ExportFault[] => {
    if (!cutOff || last === null) return [];
    const next = min(rows, (one) => (one.first !== null && one.first > last ? one.first : null)) ?? Infinity;
    const hidden = { from: Math.max(period.from, last), to: Math.min(period.to, next) };
    if (hidden.to - hidden.from < LEAST_MISSING_MS) return [];
    return [
      {
        kind: "cut off", source: source.id, file, signals: signalsOf(source, seen).map(({ id }) => id), ...hidden,
        text: `${file} stops in the middle, on ${localText(last, site.timeZone)}.`,
        ask: `Ask for ${file} again: it was cut off.`,
      },
    ];
  });
}

function renamed(source: Source, seen: ExportsSeen): ExportFault[] {
  const { ledger, unknown, period } = seen;
  const files = ledger.filter((one) => one.source === source.id).map(({ file }) => file);
  const strangers = new Map<string, { file: string; rows: number }>();
  for (const file of files) {
    for (const [channel, rows] of unknown.get(file) ?? []) strangers.set(channel, { file, rows: rows + (strangers.get(channel)?.rows ?? 0) });
  }
  const names = [...strangers].filter(([, { rows }]) => rows >= LEAST_ROWS).map(([channel]) => channel);
  const quiet = signalsOf(source, seen).flatMap((signal) => {
    const heard = heardWithin(signal, seen);
    const from = heard === null ? period.from : heard.to;
    return period.to - from < LATEST_BEGIN_MS || signal.channel === null ? [] : [{ signal, channel: signal.channel, from, never: heard === null }];
  });
  return renamedTo(quiet, names).map(({ of: { signal, channel, from }, name }) => {
    const { file = "", rows = 0 } = strangers.get(name) ?? {};
    return {
      kind: "renamed" as const, source: source.id, file, signals: [signal.id], from, to: period.to,
      text: `“${channel}” came as “${name}” in ${file} (${rows} rows), so nothing of ${signal.id} was read.`,
      ask: `Have “${name}” called “${channel}” again in the export of ${source.id}, or write “channel: ${name}” for ${signal.id} in the site file.`,
    };
  });
}

/** All of a source falls silent for good while others go on: its export ends there, or what makes it is down. */
function early(source: Source, seen: ExportsSeen): ExportFault[] {
  const { quiets, period, site, ledger } = seen;
  const wasCut = ledger.some((one) => one.source === source.id && one.cutOff);
  const quiet = quiets.find(({ what, from, to }) => what.form === "source" && what.name === source.id && to === Infinity && from < period.to);
  if (quiet === undefined || wasCut) return [];
  const from = Math.max(period.from, quiet.from);
  return [
    {
      kind: "ends early", source: source.id, file: null, signals: signalsOf(source, seen).map(({ id }) => id), from, to: period.to,
      text: `The export of ${source.id} ends on ${localText(quiet.from, site.timeZone)}, though others go on.`,
      ask: `Ask for the export of ${source.id} again, whole. If it is whole, what it comes through was down.`,
    },
  ];
}

/**
 * A day or more that lies in no file of a source, between two of them: a file was not sent. Within one file such a stretch is an
 * outage, for whoever wrote the file went on.
 */
function holes(source: Source, seen: ExportsSeen): ExportFault[] {
  const { ledger, period, quiets, site } = seen;
  const signals = signalsOf(source, seen);
  const isPeriodic = signals.filter(({ expectMs }) => expectMs !== null).length >= 2;
  const files = ledger.flatMap((one) => (one.source === source.id && one.first !== null && one.last !== null ? [{ from: one.first, to: one.last, cutOff: one.cutOff }] : []));
  const inOrder = files.toSorted((a, b) => a.from - b.from);
  let end = inOrder[0];
  return inOrder.flatMap((next): ExportFault[] => {
    const last = end ?? next;
    if (next.to > last.to) end = next;
    const [from, to] = [Math.max(period.from, last.to), Math.min(period.to, next.from)];
    // What only reports changes may have nothing to say for days: only if that is unlike all other times.
    const isOdd = isPeriodic || quiets.some(({ what, from: since, to: until }) => what.form === "source" && what.name === source.id && since < to && until > from);
    if (to - from < LATEST_BEGIN_MS || last.cutOff || !isOdd) return [];
    return [
      {
        kind: "leaves out", source: source.id, file: null, signals: signals.map(({ id }) => id), from, to,
        text: `The export of ${source.id} leaves out the time from ${localText(from, site.timeZone)} to ${localText(to, site.timeZone)}: no file holds it.`,
        ask: `Ask for the file of ${source.id} that lies between.`,
      },
    ];
  });
}

function late(source: Source, seen: ExportsSeen): ExportFault[] {
  const { period, readings, site } = seen;
  const signals = signalsOf(source, seen).filter(({ expectMs }) => expectMs !== null);
  // What only reports changes may have nothing to say for days, and what was heard before the period was there.
  const firsts = signals.map(({ id }) => min(readings.get(id)?.parts ?? [], ({ first }) => first) ?? Infinity);
  const first = min(firsts);
  if (signals.length < 2 || first === undefined || first - period.from < LATEST_BEGIN_MS || first >= period.to) return [];
  return [
    {
      kind: "begins late", source: source.id, file: null, signals: signalsOf(source, seen).map(({ id }) => id), from: period.from, to: first,
      text: `The export of ${source.id} begins only on ${localText(first, site.timeZone)}, though others begin before.`,
      ask: `Ask for the export of ${source.id} again, from the beginning of the month.`,
    },
  ];
}

/** The month is over, and all exports end, or begin, days before it does: the time between was not audited. */
function wholeMonth({ site, period, month }: ExportsSeen, found: readonly ExportFault[]): ExportFault[] {
  if (month === null || found.some(({ kind }) => kind === "cut off")) return [];
  const signals = site.signals.map(({ id }) => id);
  const sources = site.sources.map(({ id }) => id).join(", ");
  const shared = { source: sources, file: null, signals };
  // What is left of a site whose steady sources end early may have nothing to say on the last days.
  const ended = new Set(found.filter(({ kind }) => kind === "ends early" || kind === "absent").flatMap((one) => one.signals));
  const isTold = ended.size > 0 && site.signals.every(({ id, expectMs }) => expectMs === null || ended.has(id));
  const [endsMs, beginsMs] = [isTold ? 0 : month.to - period.to, period.from - month.from];
  return [
    ...(endsMs < LATEST_BEGIN_MS ? [] : [{
      kind: "ends early" as const, ...shared, from: period.to, to: period.to,
      text: `${capitalised(sources)}: all exports end on ${localText(period.to, site.timeZone)}, ${dayCount(endsMs)} before the month does. That time was not audited.`,
      ask: `Ask for the exports again, to the end of the month.`,
    }]),
    ...(beginsMs < LATEST_BEGIN_MS ? [] : [{
      kind: "begins late" as const, ...shared, from: period.from, to: period.from,
      text: `${capitalised(sources)}: all exports begin on ${localText(period.from, site.timeZone)}, ${dayCount(beginsMs)} after the month does. That time was not audited.`,
      ask: `Ask for the exports again, from the beginning of the month.`,
    }]),
  ];
}

function dayCount(ms: number): string {
  const days = Math.floor(ms / DAY_MS);
  return days === 1 ? "a day" : `${days} days`;
}
