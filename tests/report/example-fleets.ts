import type { RuleCounts } from "../../src/result/counts.js";
import { fleetOf } from "../../src/compare/fleets/fleet.js";
import type { Fleet } from "../../src/result/fleet.js";
import { simulatedFleet } from "../study/simulated-fleet.js";

const making = { madeAt: Date.UTC(2026, 6, 1), madeBy: "keyworthy 0.1.0", leftOut: [{ what: "yard 99, 2026-06", why: "counts.json ends in line 7" }] };
const verdicts = ["clear to enable", "not proven yet", "do not enable"] as const;

/** Bays of many sites by simulation, each `worse` one with sixteen times the faults of its fellows; a model with two firmwares, three rules a site. */
export function fleetOfBays(bays: number, worse: readonly number[]): Fleet {
  const audits = simulatedFleet({ bays, baysASite: 10, worse, times: 16, shape: 6, seed: 3 }).map((site, place) => ({
    ...site,
    signals: site.signals.map((one, index) => ({ ...one, firmware: one.model === "side-1" ? (index % 6 < 2 ? "2.0" : "1.4") : null })),
    rules: verdicts.map((_, index) => rule(`rule ${index + 1}`, verdicts[(index + place) % verdicts.length]!)),
  }));
  return fleetOf(audits, making);
}

function rule(name: string, verdict: string): RuleCounts {
  return { name, act: "unlock", digest: name, verdict, yearsSeen: 0.08, yearsBlind: 0.002, firings: { count: 40, right: 40, wrong: 0, unverified: 0 }, wanted: { count: 40, served: 40, late: 0, missed: 0, verified: 40, verifiedFailed: 0 } };
}

/** Two sites of ten bays, two of which stand out. */
export const smallFleet = fleetOfBays(20, [4, 17]);
/** Twenty sites of ten bays, of which four stand out. */
export const wideFleet = fleetOfBays(200, [4, 60, 117, 181]);
