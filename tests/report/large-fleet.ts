import { type Findings } from "../../src/result/schema.js";
import { exampleFindings, exampleFleet } from "./example-findings.js";

const DAY_MS = 86_400_000;

/** A depot of many bays with two signals each, four movements a bay and day, and rules over all of them. */
export function largeFleet(bayCount: number): Findings {
  const bays = Array.from({ length: bayCount }, (_, index) => `depot-bay-${index + 1}`);
  const [bay] = exampleFleet.bays;
  const models = exampleFindings.signals.slice(0, 2);
  const signalsOf = (name: string): string[] => [`${name}-overhead`, `${name}-wall`];
  const start = exampleFindings.period.from;
  const signals = bays.flatMap((name) =>
    signalsOf(name).map((signal, at) => ({
      ...models[at]!,
      signal,
      subject: name,
      siblings: at === 0 ? [{ ...models[0]!.siblings[0]!, signal: `${name}-wall` }] : [],
      judgedAgainst: { ...models[at]!.judgedAgainst, witnesses: signalsOf(name).filter((other) => other !== signal) },
    })),
  );
  const episodes = bays.flatMap((name, place) =>
    Array.from({ length: 4 * 31 }, (_, index) => {
      const anchor = start + (index * DAY_MS) / 4 + place * 61_000;
      return {
        ...exampleFindings.episodes[0]!,
        id: `${name}-${index}`,
        kind: index % 2 === 0 ? ("arrival" as const) : ("departure" as const),
        anchor,
        from: anchor,
        to: anchor,
        anchorSubject: name,
        subjects: [name],
        participants: signalsOf(name).map((signal, at) => ({ signal, subject: name, outcome: index % 29 === at ? ("missed" as const) : ("agreed" as const), lagSeconds: index % 29 === at ? null : ((index * 7) % 90) - 10 })),
      };
    }),
  );
  const phantoms = bays.flatMap((name, place) => Array.from({ length: 12 }, (_, index) => {
    const from = start + index * 2 * DAY_MS + place * 301_000;
    return { signal: `${name}-wall`, subject: name, said: "on" as const, from, to: from + 200_000 };
  }));
  const [rule] = exampleFindings.rules;
  const wrong = rule!.firingList.filter(({ outcome }) => outcome === "wrong");
  const [drill] = exampleFindings.rules.flatMap(({ drills }) => drills);
  const faults = [...new Set(exampleFindings.rules.flatMap(({ drills }) => drills.map(({ fault }) => fault)))];
  const rules = exampleFindings.rules.map((one) => ({
    ...one,
    signals: signals.map(({ signal }) => signal),
    condition: bays.map((name) => `${name}-overhead is empty`).join(" and "),
    firingList: Array.from({ length: 300 }, (_, index) => ({ ...wrong[index % wrong.length]!, id: `${one.name} #${index}`, at: start + index * 8_000_000, outcome: index % 2 === 0 ? ("wrong" as const) : ("unverified" as const) })),
    moments: Array.from({ length: 300 }, (_, index) => ({ ...rule!.moments[index % rule!.moments.length]!, firing: `${one.name} #${index}` })),
    wantedList: Array.from({ length: 800 }, (_, index) => ({ ...one.wantedList[0] ?? exampleFindings.rules[0]!.wantedList[0]!, at: start + index * 3_000_000 })),
    margin: {
      ...one.margin,
      nearMisses: Array.from({ length: 400 }, (_, index) => {
        const [near, other] = one.margin.nearMisses;
        return { ...near!, inTheWay: [signals[index]!.signal, ...other!.inTheWay], why: other!.why, verified: index % 3 === 0, excerpt: index % 50 === 0 ? near!.excerpt : null };
      }),
    },
    drills: signals.flatMap(({ signal }) => faults.map((fault) => ({ ...drill!, on: "signal" as const, name: signal, fault }))),
  }));
  return {
    ...exampleFindings,
    site: { ...exampleFindings.site, name: "Long Yard", subjects: bays.map((id) => ({ id, class: "bay", vehicle: null })), sharedCauses: [] },
    bays: bays.map((name, index) => ({ ...bay!, bay: name, signals: signalsOf(name), faults: { ...exampleFleet.bays[index % exampleFleet.bays.length]!.faults } })),
    signals,
    episodes,
    phantoms,
    rules,
    bands: signals.map(({ signal, subject }) => ({ ...exampleFindings.bands[0]!, signal, subject })),
    disagreements: bays.map((name) => ({ ...exampleFindings.disagreements[0]!, subject: name })),
    references: bays.map((name) => ({ ...exampleFindings.references[0]!, subject: name })),
  };
}
