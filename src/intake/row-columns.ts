import { group } from "d3-array";
import type { Source } from "../site/site.js";
import { InputError } from "../ground/problem.js";
import { wantedColumns, type SignalIntake } from "./columns.js";
import { readHeader } from "./header.js";
import { makeStampReader } from "./stamp.js";
import { lookUp } from "../ground/look-up.js";

/** A signal's intake with its columns' places in this file; `second` is -1 where there is none. */
export interface Plan {
  readonly intake: SignalIntake;
  readonly first: number;
  readonly second: number;
}

/** Where a file's columns stand, and which signals its rows feed. */
export interface RowColumns {
  readonly header: readonly string[];
  readonly timeAt: number;
  /** Where the time of day stands, if it has a column of its own; else -1. */
  readonly timeOfDayAt: number;
  /** Where the channel stands; -1 in a wide layout. */
  readonly channelAt: number;
  /** Wide layout: every row feeds all of these. */
  readonly plans: readonly Plan[];
  /** Long layout: the signals that each channel feeds. */
  readonly byChannel: ReadonlyMap<string, readonly Plan[]>;
}

const noPlans: readonly Plan[] = [];

/** Finds the columns in a file's first row. Throws `InputError` if it is no header that fits the site file. */
export function findColumns(source: Source, intakes: readonly SignalIntake[], cells: readonly string[], file: string, line: number): RowColumns {
  const reading = readHeader(underFirstNames(cells, source), wantedColumns(source, intakes), { file, line, delimiter: source.delimiter }, (cell) => looksLikeData(cell, source));
  if (reading.at === null) throw new InputError([reading.problem]);
  const { at } = reading;
  const placeOf = (column: string): number => lookUp(at, column);
  const plans = intakes.map((intake) => ({ intake, first: placeOf(intake.firstColumn), second: intake.secondColumn === null ? -1 : placeOf(intake.secondColumn) }));
  const { layout } = source;
  return {
    header: [...cells],
    timeAt: placeOf(source.timeColumn),
    timeOfDayAt: source.timeOfDayColumn === undefined ? -1 : placeOf(source.timeOfDayColumn),
    channelAt: layout.form === "long" ? placeOf(layout.signalColumn) : -1,
    plans: layout.form === "wide" ? plans : noPlans,
    byChannel: layout.form === "long" ? byChannelName(plans) : new Map(),
  };
}

/** Under each of a signal's names, the signals that are called so. */
function byChannelName(plans: readonly Plan[]): ReadonlyMap<string, readonly Plan[]> {
  const named = plans.flatMap((plan) => {
    const { id, channel, otherChannels } = plan.intake.signal;
    return [channel ?? id, ...(otherChannels ?? [])].map((name) => ({ name, plan }));
  });
  return new Map([...group(named, ({ name }) => name)].map(([name, all]) => [name, all.map(({ plan }) => plan)]));
}

/** A header in which a column that has another name in this file goes by the first of its names. */
function underFirstNames(cells: readonly string[], { otherNames }: Source): readonly string[] {
  if (otherNames === undefined) return cells;
  const names = cells.map((cell) => cell.trim());
  const first = new Map([...otherNames].flatMap(([name, others]) => (names.includes(name.trim()) ? [] : others.map((other) => [other.trim(), name] as const))));
  const given = new Set<string>();
  return names.map((name) => {
    const known = first.get(name);
    if (known === undefined || given.has(known)) return name;
    given.add(known);
    return known;
  });
}

/** The signals that a row feeds; none if the site file does not know its channel. */
export function plansOf({ channelAt, plans, byChannel }: RowColumns, cells: readonly string[]): readonly Plan[] {
  if (channelAt < 0) return plans;
  const channel = cells[channelAt] ?? "";
  return byChannel.get(channel) ?? byChannel.get(channel.trim()) ?? noPlans;
}

function looksLikeData(cell: string, source: Source): boolean {
  // Use a new reader: the file's own reader remembers the order of its stamps.
  return /^[+-]?\d+[.,]\d+$/.test(cell) || (!/^\d{1,3}$/.test(cell) && !Number.isNaN(makeStampReader(source).read(cell)));
}
