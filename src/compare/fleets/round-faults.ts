import type { FleetMakeFinding, FleetSignalFinding } from "../../result/fleet.js";
import { percentText } from "../../judge/rule/words.js";
import type { Comparisons } from "./comparisons.js";
import { type Examined, type Fault } from "./faults/fault.js";
import { pairFaults } from "./faults/pair-faults.js";
import { driftFaults, sensorFaults, usualDelays } from "./faults/sensor-faults.js";
import { wideFaults, type WideFaults } from "./faults/wide-faults.js";

/** A site whose name no site has: a make belongs to all of them. */
const EVERYWHERE = "";

/** Everything that is wrong in one round: by exports, by what sensors share, by sensor, by pair and by make. `before`: the round before it. */
export function roundFaults(round: readonly Examined[], before: readonly Examined[], compared: Comparisons, wideOf: ReadonlyMap<string, WideFaults>): Fault[] {
  const keyOf = (site: string, signal: string): string => JSON.stringify([site, signal]);
  const standings = new Map(compared.signals.map((one) => [keyOf(one.site, one.signal), one]));
  const bad = badMakes(compared);
  const fellows = {
    standing: (site: string, signal: string) => standings.get(keyOf(site, signal)) ?? null,
    usualDelay: usualDelays(round),
    isOfBadMake: (site: string, signal: string) => {
      const one = standings.get(keyOf(site, signal));
      return one !== undefined && bad.some((make) => isOf(one, make));
    },
  };
  const ofSites = round.flatMap((audit) => {
    const wide = wideOf.get(audit.counts.site.name) ?? wideFaults(audit);
    const own = sensorFaults(audit, wide, fellows);
    const listed = new Set([...wide.explained, ...own.flatMap(({ sensors }) => sensors)]);
    const pairs = pairFaults(audit, compared.pairs, listed);
    const named = new Set([...listed, ...pairs.flatMap(({ sensors }) => sensors)]);
    const was = before.find(({ counts }) => counts.site.name === audit.counts.site.name) ?? null;
    return [...wide.faults, ...own, ...pairs, ...driftFaults(audit, was, named)];
  });
  return [...ofSites, ...bad.map((make) => makeFault(make, compared, round))];
}

/** Firmwares that stand out, and models that do without one firmware that explains it. */
function badMakes({ models, firmwares }: Comparisons): FleetMakeFinding[] {
  const out = firmwares.filter(isOut);
  return [...out, ...models.filter((one) => isOut(one) && !out.some(({ model, kind }) => model === one.model && kind === one.kind))];
}

function isOut({ faults, silences, flickers }: FleetMakeFinding): boolean {
  return faults.standsOut || silences.standsOut || flickers.standsOut;
}

function isOf(signal: FleetSignalFinding, make: FleetMakeFinding): boolean {
  return signal.kind === make.kind && signal.model === make.model && (make.firmware === null || signal.firmware === make.firmware);
}

function makeFault(make: FleetMakeFinding, { signals, firmwares }: Comparisons, round: readonly Examined[]): Fault {
  const own = signals.filter((one) => isOf(one, make));
  const name = make.firmware === null ? make.model : `${make.model}, firmware ${make.firmware}`;
  const other = firmwares.filter((one) => one.model === make.model && one.kind === make.kind && one.firmware !== make.firmware && !isOut(one));
  const { worst } = make;
  const days = round.find(({ counts }) => own.some(({ site }) => site === counts.site.name))?.upkeep.days ?? 0;
  const what = make.faults.standsOut ? `${make.faults.count} faults; typical for the others would be ${Math.round(make.faults.expected ?? 0)}` : make.silences.standsOut ? `${make.silences.count} silences` : `${make.flickers.count} flickers`;
  return {
    kind: "update", site: EVERYWHERE, place: name, subject: null, gate: false, sensors: own.map(({ site, signal }) => `${site}: ${signal}`), mode: "make",
    model: make.model, firmware: make.firmware, firstDay: 0, lastDay: Math.max(0, days - 1), turns: make.turns, wrong: make.missedTurns + make.phantoms, silentHours: 0,
    wrongShareLow: null, nightsLost: 0, rules: [],
    reason: `${make.signals} sensors at ${make.sites} ${make.sites === 1 ? "site" : "sites"}: ${what}.${worst === null ? "" : ` Its worst sensor, ${worst.signal} of ${worst.site}, has ${percentText(worst.share)} of them; without it the others still stand out.`}`,
    weight: make.faults.count, size: { unit: "faults", value: make.faults.count },
    ask: other.length === 0 ? `Ask the maker of ${make.model} about it.` : `Update to firmware ${other.map(({ firmware }) => firmware).join(" or ")}, which is as usual.`,
  };
}
