/**
 * A whole year at one invented bay with one planted fault a sensor, for tests that compare rates over a long run.
 * `replace` swaps pieces of the text, so that a test shows only what it changes.
 */
export function yearScenarioText(replace: Readonly<Record<string, string>> = {}): string {
  let text = YEAR;
  for (const [from, to] of Object.entries(replace)) {
    if (!text.includes(from)) throw new Error(`The year scenario does not hold "${from}".`);
    text = text.replace(from, to);
  }
  return text;
}

const YEAR = `
scenario: Long Field
seed: 7
timezone: Europe/Berlin
period: { from: 2026-01-01, to: 2027-01-01 }
people: { ada: {} }
bays: { bay-1: { vehicle: kombi } }
doors: { barn-door: {} }
routine:
  - { name: morning, who: [ada], bay: bay-1, through: barn-door, days: daily, leaves: "07:30", away: 4h, jitter: 20min, length_jitter: 30min }
  - { name: afternoon, who: [ada], bay: bay-1, through: barn-door, days: daily, leaves: "14:00", away: 3h, jitter: 20min, length_jitter: 30min }
  - { name: evening walk, who: [ada], days: daily, leaves: "19:30", away: 40min, jitter: 20min, length_jitter: 10min }
causes:
  board: { restart: { per_30_days: 2, mean: 4min } }
  hub: {}
sources:
  log: { files: exports/log.csv, time: { column: t, written: epoch-s }, signal: id, value: v, dirt: { disorder: 0.001, unreadable: 0.001 } }
sensors:
  meter-missing:
    { on: bay-1, source: log, channel: m1, kind: distance, unit: cm, shares: [board], every: 30min,
      reads: { occupied: 120, empty: 260, noise: 1, decimals: 0 }, faults: { miss: 0.05, dropout: 0.02 }, site: { present: [100, 140], expect: 30min } }
  meter-phantom:
    { on: bay-1, source: log, channel: m2, kind: distance, unit: cm, shares: [hub], every: 30min,
      reads: { occupied: 120, empty: 260, noise: 1, decimals: 0 }, faults: { phantom: { per_30_days: 12, mean: 5min }, phantom_off: { per_30_days: 6, mean: 5min } }, site: { present: [100, 140], expect: 30min } }
  contact-bouncing:
    { on: barn-door, source: log, channel: c1, kind: contact, shares: [board], reads: { on: "1", off: "0" }, faults: { bounce: 0.1 } }
  phone-late:
    { on: ada, source: log, channel: p1, kind: phone, shares: [hub], reads: { on: in, off: out },
      faults: { miss_off: 0.1, lag: { on: { median: 30s, spread: 0.5 }, off: { median: 2min, spread: 0.5, tail: { chance: 0.1, mean: 5min } } } } }
site:
  rules:
    - { name: lock, act: lock, when: { every: people, is: away } }
`;
