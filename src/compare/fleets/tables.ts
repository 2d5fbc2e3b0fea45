import { csvText, type Cell } from "../../ground/csv-text.js";
import type { Fleet, FleetStanding } from "../../result/fleet.js";

/** bays.csv of a fleet: one row a bay. */
export function fleetBaysCsv(fleet: Fleet): string {
  const header = [
    ...periodColumns,
    "bay",
    "vehicle",
    "arrivals",
    "departures",
    "signals",
    ...useColumns,
    ...standingColumns("faults"),
    ...standingColumns("silences"),
    ...standingColumns("flickers"),
  ];
  return csvText(
    header,
    fleet.bays.map((bay) => [
      ...periodCells(bay),
      bay.bay,
      bay.vehicle,
      bay.arrivals,
      bay.departures,
      bay.signals.join(" "),
      ...useCells(bay),
      ...standingCells(bay.faults),
      ...standingCells(bay.silences),
      ...standingCells(bay.flickers),
    ]),
  );
}

/** signals.csv of a fleet: one row a signal. */
export function fleetSignalsCsv(fleet: Fleet): string {
  const header = [
    ...periodColumns,
    "signal",
    "subject",
    "kind",
    "model",
    "firmware",
    ...useColumns,
    ...standingColumns("faults"),
    ...standingColumns("silences"),
    ...standingColumns("flickers"),
  ];
  return csvText(
    header,
    fleet.signals.map((one) => [
      ...periodCells(one),
      one.signal,
      one.subject,
      one.kind,
      one.model,
      one.firmware,
      ...useCells(one),
      ...standingCells(one.faults),
      ...standingCells(one.silences),
      ...standingCells(one.flickers),
    ]),
  );
}

const periodColumns = ["site", "period_from", "period_to"];

function periodCells({ site, from, to }: { readonly site: string; readonly from: string; readonly to: string }): Cell[] {
  return [site, from, to];
}

const useColumns = ["signal_days", "known_share", "turns", "missed_turns", "phantoms", "judged_days"];

function useCells(use: Pick<Fleet["bays"][number], "days" | "knownShare" | "turns" | "missedTurns" | "phantoms" | "judgedDays">): Cell[] {
  return [use.days, use.knownShare, use.turns, use.missedTurns, use.phantoms, use.judgedDays];
}

function standingColumns(noun: string): string[] {
  return [
    noun,
    ...["expected", "control_low", "control_high", "pooled_ratio", "pooled_low", "pooled_high", "p", "p_adjusted", "stand_out"].map(
      (name) => `${noun}_${name}`,
    ),
  ];
}

function standingCells(one: FleetStanding): Cell[] {
  return [
    one.count,
    one.expected,
    one.controlLow,
    one.controlHigh,
    one.pooledRatio,
    one.pooledLow,
    one.pooledHigh,
    one.pValue,
    one.adjustedPValue,
    one.standsOut,
  ];
}
