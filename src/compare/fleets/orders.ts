import { descending } from "d3-array";
import { folderName } from "../../ground/folder-name.js";
import type { WorkOrder } from "../../result/fleet.js";
import { adviceOf } from "./faults/advice.js";
import { dateOf, type Examined, type Fault } from "./faults/fault.js";
import { type FirstNames, firstNames } from "./names.js";

/** Exports cost a message, places a visit, makes a campaign. */
const kinds: readonly WorkOrder["kind"][] = ["export", "place", "update"];

/**
 * The work orders of the first round: exports, then places, then makes; gates before bays, then by nights lost, then by
 * what went wrong. `state` and `monthsOpen` come from the rounds before. What was on the list of the audit before, and is
 * on none now though it was looked at, is mended. Every place is listed; nothing is cut.
 */
export function ordersOf(rounds: readonly (readonly Examined[])[], faults: readonly (readonly Fault[])[]): WorkOrder[] {
  const names = firstNames(rounds.map((round) => round.map(({ counts }) => counts)));
  const keyed = faults.map((round) => new Map(round.map((fault) => [keyOf(fault, names), fault])));
  const [now = new Map<string, Fault>(), before = new Map<string, Fault>()] = keyed;
  const open = [...now].sort(([a, one], [b, other]) => byConsequence(one, other) || (a < b ? -1 : 1)).map(([key, fault]) => orderOf(key, fault, 0, rounds, keyed, names));
  const mended = [...before]
    .filter(([key, fault]) => !now.has(key) && wasLookedAt(fault, rounds[0] ?? [], [...now.values()], names))
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, fault]) => orderOf(key, fault, 1, rounds, keyed, names));
  return [...open, ...mended].map((order, i) => ({ ...order, priority: i + 1 }));
}

function byConsequence(one: Fault, other: Fault): number {
  return (
    kinds.indexOf(one.kind) - kinds.indexOf(other.kind) ||
    Number(other.gate) - Number(one.gate) ||
    descending(one.nightsLost, other.nightsLost) ||
    descending(one.weight, other.weight)
  );
}

/** `cinder-depot/gate-rail/stuck`. */
function keyOf({ site, place, sensors, mode, countedAs = mode, kind }: Fault, names: FirstNames): string {
  const first = sensors.length > 0 && sensors.join(" and ") === place ? sensors.map((signal) => names(site, signal)).join(" and ") : place;
  return [kind === "update" ? "fleet" : folderName(site), folderName(first), folderName(countedAs)].join("/");
}

/** Whether this round had the chance to find the fault again: its site is there, and no export hides its sensors. */
function wasLookedAt(fault: Fault, now: readonly Examined[], open: readonly Fault[], names: FirstNames): boolean {
  if (fault.kind === "update") return true;
  const audit = now.find(({ counts }) => counts.site.name === fault.site);
  if (audit === undefined) return false;
  if (fault.kind === "export") return true;
  const hidden = new Set(open.filter(({ kind, site }) => kind === "export" && site === fault.site).flatMap(({ sensors }) => sensors));
  const current = new Set(audit.counts.signals.map(({ signal }) => names(fault.site, signal)));
  return fault.sensors.some((signal) => current.has(names(fault.site, signal)) && !hidden.has(signal));
}

function orderOf(
  key: string,
  fault: Fault,
  back: number,
  rounds: readonly (readonly Examined[])[],
  keyed: readonly ReadonlyMap<string, Fault>[],
  names: FirstNames,
): WorkOrder {
  const audits = rounds.map((round) => round.find(({ counts }) => counts.site.name === fault.site) ?? (fault.kind === "update" ? round[0] : undefined));
  const own = audits[back];
  let months = 0;
  while (keyed[back + months]?.has(key) === true) months += 1;
  const oldest = keyed[back + months - 1]?.get(key);
  const began = audits[back + months - 1];
  const month = audits[0] ?? own;
  const kindOf = (signal: string): string | null => own?.counts.signals.find((one) => one.signal === signal)?.kind ?? null;
  return {
    key,
    month: month === undefined ? "" : dateOf(month.counts, 0),
    kind: fault.kind,
    state: back > 0 ? "mended" : months > 1 ? "open" : "new",
    priority: 0,
    site: fault.site,
    place: fault.place,
    subject: fault.subject,
    gate: fault.gate,
    sensors: [...fault.sensors],
    mode: fault.mode,
    model: fault.model,
    firmware: fault.firmware,
    firstSeen: began === undefined || oldest === undefined ? "" : dateOf(began.counts, oldest.firstDay),
    lastSeen: own === undefined ? "" : dateOf(own.counts, fault.lastDay),
    monthsOpen: months,
    turns: fault.turns,
    wrong: fault.wrong,
    silentHours: fault.silentHours,
    wrongShareLow: fault.wrongShareLow,
    nightsLost: fault.nightsLost,
    rules: [...fault.rules],
    ...adviceOf(fault, kindOf),
    reason: fault.reason,
    page: fault.site === "" ? "" : `sites/${folderName(fault.site)}.html`,
    trend: { unit: fault.size.unit, points: trendOf(key, fault, audits, keyed) },
    strip: fault.kind === "update" ? [] : stripOf(fault, own),
  };

  function trendOf(of: string, { size }: Fault, seen: readonly (Examined | undefined)[], all: readonly ReadonlyMap<string, Fault>[]): WorkOrder["trend"]["points"] {
    return seen
      .map((audit, i) => {
        const there = all[i]?.get(of);
        const isSame = there !== undefined && there.size.unit === size.unit;
        const quiet = audit === undefined || fault.mode === "drifting" ? null : quietSize(fault, audit, names);
        return { month: audit?.counts.period.label ?? "", value: isSame ? there.size.value : quiet };
      })
      .filter(({ month: label }) => label !== "")
      .reverse();
  }
}

/** The figure of an audit that does not list the place: what it did there all the same; null where it was not there. */
function quietSize({ sensors, size, site }: Fault, { counts }: Examined, names: FirstNames): number | null {
  const own = counts.signals.filter(({ signal }) => sensors.some((one) => names(site, one) === names(site, signal)));
  if (own.length === 0) return size.unit === "restarts" || size.unit === "faults" ? 0 : null;
  const all = (of: (one: (typeof own)[number]) => number): number => own.reduce((so, one) => so + of(one), 0);
  switch (size.unit) {
    case "changes missed":
      return all(({ missedTurns }) => missedTurns);
    case "false reports":
      return all(({ phantoms }) => phantoms);
    case "flickers":
      return all(({ flaps }) => flaps);
    case "silences":
      return all(({ silences }) => silences);
    case "hours silent":
      return Math.round(all(({ silentDays }) => silentDays) * 24);
    default:
      return 0;
  }
}

/** The place's sensors by day; of a single sensor also another of the same subject, to see both beside one another. */
function stripOf({ sensors, subject }: Fault, audit: Examined | undefined): WorkOrder["strip"] {
  if (audit === undefined) return [];
  const twin = sensors.length === 1 ? audit.sensors.find(({ counts }) => counts.subject === subject && counts.signal !== sensors[0]) : undefined;
  const shown = [...audit.sensors.filter(({ counts }) => sensors.includes(counts.signal)), ...(twin === undefined ? [] : [twin])];
  return shown.slice(0, 2).map(({ days }) => ({ signal: days.signal, wrong: days.wrongHours, silent: days.silentHours, hidden: days.hiddenHours, flickers: days.flickers ?? [] }));
}
