import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";

/** A scenario of seventeen days of October 2026: one bay, one door, one person, and one rule that lacks evidence. */
export const smallScenario = `scenario: Heron Lane
seed: 7
timezone: Europe/London
period: { from: 2026-10-01, to: 2026-10-18 }
people: { mira: { at_start: here } }
bays: { bay-1: { vehicle: estate } }
doors: { yard-door: { opens_before: [20s, 50s], closes_after: [40s, 2min] } }
routine:
  - { name: to work, who: [mira], bay: bay-1, through: yard-door, days: daily, leaves: "08:05", away: 9h, jitter: 10min, length_jitter: 20min }
  - { name: evening class, who: [mira], bay: bay-1, through: yard-door, days: [wed], leaves: "19:05", away: 45min, jitter: 5min, length_jitter: 5min }
causes: { board-a: {} }
sources:
  board-log: { files: exports/board.csv, time: { column: stamp, written: iso }, signal: channel, value: reading }
  phones: { files: exports/phones.csv, time: { column: When, written: dd/MM/yyyy HH:mm:ss }, missing: [""] }
sensors:
  overhead: { on: bay-1, source: board-log, channel: overhead, kind: distance, unit: ft, shares: [board-a], every: 5min, reads: { occupied: 4.2, empty: 8.0, noise: 0.03 }, site: { present: [3.7, 4.7], settle: 20s, expect: 5min } }
  wall: { on: bay-1, source: board-log, channel: wall, kind: distance, unit: in, every: 5min, reads: { occupied: 22, empty: 118, noise: 0.4, maximum: 118, decimals: 1 }, site: { present: [12, 34], maximum: 118, settle: 20s, expect: 5min } }
  door-rail: { on: yard-door, source: board-log, channel: door-rail, kind: contact, reads: { on: open, off: closed } }
  phone-mira: { on: mira, source: phones, column: phone-mira, kind: phone, every: 15min, reads: { on: in, off: out }, site: { expect: 15min } }
site:
  rules:
    - name: unlock on arrival
      act: unlock
      when: { all: [ { signal: overhead, turned: occupied, within: 2min }, { signal: wall, is: occupied }, { signal: phone-mira, turned: here, within: 10min } ] }
  limits: { unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min } }
`;

/** What it makes: path → text of the site file, the diaries and the two exports. */
export const smallHousehold = (): ReadonlyMap<string, string> => runScenario(parseScenario(smallScenario, "small-household.yaml")).files;

/** The two exports alone. */
export const smallExports = (): ReadonlyMap<string, string> => new Map([...smallHousehold()].filter(([path]) => path.startsWith("exports/")));
