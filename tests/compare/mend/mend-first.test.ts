import { describe, expect, it } from "vitest";
import type { MendInput } from "../../../src/compare/mend/events.js";
import { mendFirst } from "../../../src/compare/mend/mend-first.js";
import type { Culprit } from "../../../src/result/culprit.js";
import type { Firing, RuleFinding } from "../../../src/result/rules.js";
import type { ClockFault } from "../../../src/truth/clocks/faults.js";
import { exampleFindings } from "../../report/example-findings.js";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const AT = Date.parse("2026-10-16T16:00:00.000Z");

const culprit = (signal: string, what: Culprit["what"], more: Partial<Culprit> = {}): Culprit => ({ signal, condition: "", what, from: null, to: null, bySeconds: null, wouldServeSeconds: null, signals: [], text: "", ...more });
const lasting = (signal: string, what: Culprit["what"], ms: number): Culprit => culprit(signal, what, { from: AT - ms, to: AT, text: `${signal} lied.` });

const [template] = exampleFindings.rules;
const [someFiring] = template?.firingList ?? [];
if (template === undefined || someFiring === undefined) throw new Error("the example has a rule that fired");
const [first, second] = ["bay-1-wall", "phone-mira"];

interface Went {
  readonly wrong?: readonly Culprit[];
  readonly failed?: readonly Culprit[];
  readonly unverifiedAt?: readonly number[];
  readonly more?: Partial<RuleFinding>;
}

/** A rule of two sensors that went as told, and nothing else. */
function ruleThat({ wrong = [], failed = [], unverifiedAt = [], more = {} }: Went): RuleFinding {
  const firing = (outcome: Firing["outcome"], at: number, blamed: Culprit | null): Firing => ({ ...someFiring!, outcome, at, culprit: blamed });
  return {
    ...template!,
    signals: [first, second],
    reasons: [],
    firings: { count: 40, right: 40 - wrong.length - unverifiedAt.length, wrong: wrong.length, unverified: unverifiedAt.length },
    wanted: { count: 40, served: 40 - failed.length, late: 0, missed: failed.length, verified: 40, verifiedFailed: failed.length },
    firingList: [...wrong.map((one) => firing("wrong", AT, one)), ...unverifiedAt.map((at) => firing("unverified", at, null))],
    wantedList: failed.map((one) => ({ at: AT, outcome: "missed", verified: true, firing: null, delaySeconds: null, why: "", culprit: one })),
    margin: { ...template!.margin, nearMisses: [] },
    cutSets: { ...template!.cutSets, inPractice: { ...template!.cutSets.inPractice, sets: [] } },
    ...more,
  };
}

const mended = (went: Went, more: Partial<MendInput> = {}) =>
  mendFirst({
    ...exampleFindings,
    period: { ...exampleFindings.period, days: 30 },
    disagreements: [], phantoms: [], bands: [], changes: [], clockFaults: [], restarts: new Map(), bandWouldMend: () => false,
    rules: [ruleThat(went)],
    ...more,
  });
const shortly = (went: Went, more: Partial<MendInput> = {}): string[] => mended(went, more).map(({ what, target, weight }) => `${what} ${target} ${weight}`);

describe("what to mend first", () => {
  it("is nothing where nothing did anything to a rule, whatever the scores", () => {
    expect(mended({})).toEqual([]);
  });

  it("is the signal with the gravest consequence, in points a month, told as a count of all", () => {
    const went = { wrong: [culprit(second, "came back"), culprit(null!, "none lied", { signal: null })], failed: [culprit(first, "said the opposite"), culprit(first, "silent"), culprit(first, "window ended")] };
    expect(shortly(went)).toEqual([`signal ${second} 10`, `signal ${first} 2`]);
    expect(mended(went).map(({ rules }) => rules.map(({ did }) => did))).toEqual([[["1 of 2 wrong unlocks"]], [["2 of 3 missed or late unlocks"]]]);
    expect(shortly(went, { period: { ...exampleFindings.period, days: 60 } })).toEqual([`signal ${second} 5`, `signal ${first} 1`]);
  });

  it("names the longest of its false reports with its day", () => {
    const [entry] = mended({ failed: [lasting(first, "said the opposite", MINUTE), lasting(first, "said the opposite", 17 * HOUR)] });
    expect(entry?.why).toContain("Worst on 16 October 2026: bay-1-wall lied.");
  });

  it("is no sensor where the rule's own window was too short, nor one that was late once", () => {
    expect(mended({ failed: [culprit(first, "window ended"), culprit(first, "held too long"), culprit(second, "too late")] })).toEqual([]);
    expect(shortly({ failed: [1, 2, 3].map(() => culprit(second, "too late")) })).toEqual([`signal ${second} 3`]);
  });

  it("is a band only where the band that is advised would have told most of it rightly", () => {
    const went = { failed: [1, 2, 3].map(() => lasting(first, "said the opposite", HOUR)) };
    const bands = exampleFindings.bands.slice(0, 1).map((one) => ({ ...one, signal: first, presentHolds: false, suggested: { nearMetres: 0.5, farMetres: 0.7, written: "present: [20, 28]" } }));
    expect(mended(went, { bands, bandWouldMend: () => true })).toMatchObject([{ what: "band", text: "Move the band of bay-1-wall: write “present: [20, 28]”." }]);
    expect(shortly(went, { bands })).toEqual(["signal bay-1-wall 3"]);
  });

  it("is no sensor where another one of the same bay said the same: then something stood there", () => {
    const wrong = [lasting(first, "said the opposite", HOUR)];
    const seen = (signal: string, from: number, to: number, said: "on" | "off" = "on") => ({ signal, subject: "bay-1", said, from, to });
    const own = seen(first, AT - HOUR, AT);
    const site = { ...exampleFindings.site, sharedCauses: [] };
    const [entry] = mended({ wrong }, { site, phantoms: [own, seen("bay-1-overhead", AT - HOUR + MINUTE, AT)] });
    expect(entry).toMatchObject({ what: "subject", target: "bay-1", text: "Find out what stood in bay-1.", rules: [{ wrong: 1 }] });
    expect(entry?.why).toContain("bay-1-overhead and bay-1-wall saw it at the same time");
    // Alone, or for a moment, or the other way round, or on one board: it is the sensor.
    expect(shortly({ wrong }, { site, phantoms: [own] })).toEqual(["signal bay-1-wall 10"]);
    expect(shortly({ wrong }, { site, phantoms: [own, seen("bay-1-overhead", AT - MINUTE, AT)] })).toEqual(["signal bay-1-wall 10"]);
    expect(shortly({ wrong }, { site, phantoms: [{ ...own, said: "off" }, seen("bay-1-overhead", AT - HOUR, AT, "off")] })).toEqual(["signal bay-1-wall 10"]);
    const onOneBoard = { ...site, sharedCauses: [{ cause: "board-a", signals: [first, "bay-1-overhead"] }] };
    expect(shortly({ wrong }, { site: onOneBoard, phantoms: [own, seen("bay-1-overhead", AT - HOUR, AT)] })).toEqual(["signal bay-1-wall 10"]);
  });

  it("says since when a sensor is worse", () => {
    const changes = exampleFindings.changes.slice(0, 1).map((one) => ({ ...one, signal: first, changed: true, what: "silence" as const, since: AT }));
    expect(mended({ failed: [culprit(first, "silent")] }, { changes })[0]?.why).toContain("Its silence changed on 16 October 2026");
    expect(mended({}, { changes })).toEqual([]);
  });
});

describe("a clock that is off", () => {
  const fault: ClockFault = { target: "phones", text: "Set it right.", why: "An hour.", reachMs: HOUR, rules: [template.name], blocked: [] };

  it("blames no sensor where it keeps the rule from being judged", () => {
    const went = { wrong: [lasting(second, "came back", 5 * HOUR)], failed: [culprit(first, "said the opposite")], unverifiedAt: [AT] };
    const phantoms = [{ signal: second, subject: "mira", said: "off" as const, from: AT - MINUTE, to: AT + 9 * HOUR }];
    const list = mended(went, { phantoms, clockFaults: [{ ...fault, blocked: fault.rules }] });
    expect(list).toMatchObject([{ what: "clock", target: "phones", text: "Set it right.", weight: 120, rules: [{ unjudged: 40, wrong: 0, failed: 0, did: ["none of its 40 unlocks can be judged"] }] }]);
  });

  it("answers for short false reports and late ones, and not for a sensor that lied for a day or was silent", () => {
    const went = { failed: [lasting(second, "said the opposite", 50 * MINUTE), culprit(second, "too late", { bySeconds: 600 }), culprit(first, "window ended", { bySeconds: 30 }), lasting(first, "said the opposite", 26 * HOUR), culprit(second, "silent")] };
    expect(shortly(went, { clockFaults: [fault] })).toEqual(["clock phones 3", "signal bay-1-wall 1", "signal phone-mira 1"]);
  });

  it("is not listed where it did nothing to the rule, or the rule does not rest on it", () => {
    expect(mended({}, { clockFaults: [fault] })).toEqual([]);
    expect(shortly({ failed: [lasting(second, "said the opposite", MINUTE)] }, { clockFaults: [{ ...fault, rules: [] }] })).toEqual(["signal phone-mira 1"]);
  });
});

describe("a shared cause", () => {
  const site = { ...exampleFindings.site, sharedCauses: [{ cause: "hub", signals: ["phone-mira", "phone-tom"] }] };

  it("is asked about where it restarted just then, or all that was wrong at once hangs on it", () => {
    const restarts = new Map([[second, [{ from: AT - 3 * MINUTE, to: AT - 2 * MINUTE, cause: "hub" }]]]);
    const one = { wrong: [lasting(second, "came back", 3 * MINUTE)] };
    expect(mended(one, { site, restarts })).toMatchObject([{ what: "cause", target: "hub", text: "Find out why hub restarts." }]);
    expect(shortly(one, { site, restarts: new Map([[second, [{ from: AT - 9 * HOUR, to: AT - 8 * HOUR, cause: "hub" }]]]) })).toEqual(["signal phone-mira 10"]);
    expect(shortly({ wrong: [lasting(second, "said the opposite", 17 * HOUR)] }, { site, restarts })).toEqual(["signal phone-mira 10"]);
    expect(mended({ wrong: [culprit(second, "came back", { signals: ["phone-tom"] })] }, { site })).toMatchObject([{ what: "cause", target: "hub", why: "phone-mira and phone-tom share it. Worst on 16 October 2026: " }]);
    expect(shortly({ wrong: [culprit(second, "came back", { signals: [first] })] }, { site })).toEqual(["signal phone-mira 10"]);
  });

  it("is to be found out where its silence keeps a rule from being judged", () => {
    const deaf = (signal: string, knownShare: number) => exampleFindings.signals.slice(0, 1).map((one) => ({ ...one, signal, knownShare }));
    const blind = (effect: "open" | "clears"): Went => ({
      more: { signals: ["phone-mira", "phone-tom"], evidence: { ...template.evidence, blindShare: 0.5 }, reasons: [{ code: "blind-time", effect, text: "", measured: 0.5, limit: 0.1, unit: "" }] },
    });
    const signals = [...deaf("phone-mira", 0.5), ...deaf("phone-tom", 0.55)];
    expect(mended(blind("open"), { site, signals })).toMatchObject([{ what: "cause", target: "hub", weight: 60, text: "Find out why hub was silent.", rules: [{ unjudged: 20, did: ["nothing can be said about 50 % of the time"] }] }]);
    expect(shortly(blind("open"), { site, signals: [...deaf("phone-mira", 0.5), ...deaf("phone-tom", 1)] })).toEqual(["signal phone-mira 60"]);
    expect(mended(blind("clears"), { site, signals })).toEqual([]);
  });
});

describe("what has not gone wrong yet, or cannot be told", () => {
  it("counts an unverified firing in a false report of a sensor, and not one long after it began", () => {
    const phantoms = [{ signal: second, subject: "mira", said: "off" as const, from: AT, to: AT + HOUR }];
    expect(mended({ unverifiedAt: [AT + MINUTE, AT + 50 * MINUTE] }, { phantoms })).toMatchObject([{ target: second, weight: 3, rules: [{ maybeWrong: 1, did: ["1 of 2 unlocks that nobody could check"] }] }]);
  });

  it("counts an unverified firing while a pair disagrees of which nobody knows who is wrong", () => {
    const [some] = exampleFindings.disagreements;
    const [stretch] = some?.list ?? [];
    const apart = (reference: "unknown" | "on") =>
      some === undefined || stretch === undefined ? [] : [{
        ...some,
        list: [{ ...stretch, from: AT, to: AT + MINUTE, saidOn: [first], saidOff: ["bay-1-overhead"], againstReference: [], reference }],
        pairs: [{ signals: ["bay-1-overhead", first] as [string, string], count: 3, hours: 1, jointDays: 20, perMonth: { value: 4, low: 1, high: 9, count: 3, unit: "", why: null } }],
      }];
    expect(mended({ unverifiedAt: [AT, AT + HOUR] }, { disagreements: apart("unknown") })).toMatchObject([
      { what: "pair", target: "bay-1-overhead, bay-1-wall", weight: 3, text: "Watch bay-1-overhead and bay-1-wall for a while: one of the two is wrong, and nobody can tell which.", why: "They contradicted each other 3 times while no other sensor could tell." },
    ]);
    expect(mended({ unverifiedAt: [AT] }, { disagreements: apart("on") })).toEqual([]);
  });

  it("counts a moment at which one other sensor alone stood in the way of a wrong firing", () => {
    const phantoms = [{ signal: second, subject: "mira", said: "off" as const, from: AT, to: AT + HOUR }];
    const near = (inTheWay: string[], verified = true): Went => ({ more: { margin: { ...template.margin, nearMisses: [{ from: AT, to: AT + MINUTE, inTheWay, why: "", verified, excerpt: null }] } } });
    expect(mended(near([first]), { phantoms })).toMatchObject([{ target: second, weight: 0.1, rules: [{ nearly: 1, did: ["another sensor alone prevented a wrong unlock once"] }] }]);
    for (const other of [near([second]), near([first, second]), near([first], false)]) expect(mended(other, { phantoms })).toEqual([]);
  });

  it("counts what a sensor that suffices alone lets one expect, where that is more than is accepted and none has come", () => {
    const expecting = (value: number | null, signals: string[]): Partial<RuleFinding> => ({
      wrongPerYear: { ...template.wrongPerYear, limit: 2 },
      cutSets: { ...template.cutSets, inPractice: { ...template.cutSets.inPractice, sets: [{ signals, causes: [], text: "", share: 0.5, hoursPerMonth: 300, expectedPerYear: { value, high: 90, why: null } }] } },
    });
    expect(mended({ more: expecting(36.525, [second]) })).toMatchObject([{ target: second, weight: 30, rules: [{ expected: 3, wrong: 0 }] }]);
    for (const more of [expecting(1, [second]), expecting(null, [second]), expecting(36.525, [first, second])]) expect(mended({ more })).toEqual([]);
    expect(shortly({ wrong: [culprit(second, "came back")], more: expecting(36.525, [second]) })).toEqual(["signal phone-mira 10"]);
  });
});
