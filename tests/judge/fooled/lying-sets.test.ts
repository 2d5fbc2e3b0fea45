import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lyingSets, type LyingSets } from "../../../src/judge/fooled/lying-sets.js";
import type { Expression } from "../../../src/site/expression.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { ON, UNKNOWN, type Timeline, type TruthState } from "../../../src/timeline/timeline.js";
import { allOf, anyOf, is, min, no, quorum, structureOf, truthOf, turned } from "../small-site.js";
import { constantTimeline } from "../../timeline/constant-timeline.js";

const text = ({ sets }: LyingSets): string[] => sets.map((set) => set.map((liar) => (liar.kind === "cause" ? `cause ${liar.name}` : liar.name)).join(" + "));
const found = (expression: Expression, shares: Readonly<Record<string, readonly string[]>> = {}): string[] => text(lyingSets(structureOf(expression, (signal) => shares[signal] ?? [])));

const [a, b, c] = [is("a", 1), is("b", 1), is("c", 1)];

describe("the smallest sets of lying signals", () => {
  it("need all of an all, one of an any, k of a quorum", () => {
    expect(found(allOf(a, b))).toEqual(["a + b"]);
    expect(found(anyOf(a, b))).toEqual(["a", "b"]);
    expect(found(quorum(2, a, b, c))).toEqual(["a + b", "a + c", "b + c"]);
  });

  it("drop every set that contains a smaller one", () => {
    expect(found(anyOf(a, allOf(a, b), allOf(b, c)))).toEqual(["a", "b + c"]);
  });

  it("need a signal once even where it is asked twice", () => {
    expect(found(allOf(turned("a", 1, 2), is("a", 1)))).toEqual(["a"]);
  });

  it("need the signal under a not to read otherwise", () => {
    expect(found(no(is("a", 0)))).toEqual(["a"]);
    expect(found(no(quorum(2, a, b, c)))).toEqual(["a + b", "a + c", "b + c"]);
    expect(found(no(anyOf(a, b)))).toEqual(["a + b"]);
    expect(found(no(turned("a", 1, 5)))).toEqual(["a"]);
  });

  it("cannot have one signal read two ways at once", () => {
    expect(found(allOf(is("a", 1), is("a", 0)))).toEqual([]);
    expect(found(allOf(anyOf(is("a", 1), b), anyOf(is("a", 0), c)))).toEqual(["a + b", "a + c", "b + c"]);
    expect(found(allOf(turned("a", 1, 5), is("a", 0)))).toEqual(["a"]);
  });

  it("take a shared cause as one liar for all of its signals", () => {
    const shares = { a: ["board"], b: ["board"], c: ["hub"] };
    expect(found(allOf(a, b), shares)).toEqual(["cause board", "a + b"]);
    expect(found(allOf(a, b, c), shares)).toEqual(["cause board + cause hub", "cause board + c", "cause hub + a + b", "a + b + c"]);
  });

  it("stop at a stated size", () => {
    const many = Array.from({ length: 6 }, (_, i) => is(`s${i}`, 1));
    expect(lyingSets(structureOf(allOf(...many)))).toEqual({ sets: [], upToSize: 4 });
    expect(lyingSets(structureOf(allOf(a, b)), 1)).toEqual({ sets: [], upToSize: 1 });
  });

  it("look for smaller sets when there would be too many, and say so", () => {
    const many = Array.from({ length: 30 }, (_, i) => is(`s${i}`, 1));
    const { sets, upToSize } = lyingSets(structureOf(quorum(4, ...many)));
    expect(upToSize).toBeLessThan(4);
    expect(sets).toEqual([]);
    expect(lyingSets(structureOf(quorum(2, ...many))).sets).toHaveLength(435);
  });

  it("never give up on single liars, even where contradictions are too many to follow", () => {
    const everyKnown = allOf(...Array.from({ length: 25 }, (_, i) => anyOf(is(`s${i}`, 1), is(`s${i}`, 0))));
    expect(text(lyingSets(structureOf(everyKnown, () => ["hub"]), 1))).toEqual(["cause hub"]);
  });
});

/** A history of seven instants, one a minute; the last one is now. */
const LENGTH = 7;
const histories = Array.from({ length: 2 ** LENGTH }, (_, bits) =>
  timelineOf(
    0,
    min(LENGTH),
    Array.from({ length: LENGTH }, (_, i) => [min(i), ((bits >> i) & 1) as TruthState] as const),
  ),
);
const silent = constantTimeline(0, min(LENGTH), UNKNOWN);

function isOn(expression: Expression, resolve: (ref: string) => Timeline): boolean {
  return stateAt(truthOf(expression, (ref) => ({ timeline: resolve(ref), barriers: [] })), min(LENGTH - 1)) === ON;
}

/** What a signal can make of its atoms by any history: each distinct outcome once, as a history that brings it about. */
function distinctHistories(signal: string, atoms: readonly Expression[]): Timeline[] {
  const own = atoms.filter((atom) => (atom.op === "is" || atom.op === "turned") && atom.ref === signal);
  const byOutcome = new Map(
    histories.map((history) => [own.map((atom) => stateAt(truthOf(atom, () => ({ timeline: history, barriers: [] })), min(LENGTH - 1))).join(), history] as const),
  );
  return [...byOutcome.values()];
}

/** Brute force: every set of signals, every history of theirs, all others silent (unknown supports nothing, denied or not). */
function minimalByTrial(expression: Expression, choices: ReadonlyMap<string, readonly Timeline[]>, liars: ReadonlyMap<string, readonly string[]>): string[][] {
  const suffices = (signals: readonly string[], chosen: ReadonlyMap<string, Timeline>): boolean => {
    const [next, ...rest] = signals;
    if (next === undefined) return isOn(expression, (ref) => chosen.get(ref) ?? silent);
    return choices.get(next)!.some((history) => suffices(rest, new Map([...chosen, [next, history]])));
  };
  const names = [...liars.keys()];
  const sets = Array.from({ length: 2 ** names.length }, (_, bits) => names.filter((_, i) => (bits >> i) & 1)).toSorted((x, y) => x.length - y.length);
  const found: string[][] = [];
  for (const set of sets) {
    if (found.some((smaller) => smaller.every((one) => set.includes(one)))) continue;
    const signals = [...new Set(set.flatMap((liar) => liars.get(liar)!))];
    if (suffices(signals, new Map())) found.push(set);
  }
  return found;
}

function conditionOver(atoms: readonly Expression[]): fc.Arbitrary<Expression> {
  return fc.letrec<{ node: Expression }>((tie) => {
    const some = fc.array(tie("node"), { minLength: 1, maxLength: 3 });
    return {
      node: fc.oneof(
        { maxDepth: 3 },
        { weight: 2, arbitrary: fc.constantFrom(...atoms) },
        { weight: 2, arbitrary: some.map((of) => allOf(...of)) },
        { weight: 1, arbitrary: some.map((of) => anyOf(...of)) },
        { weight: 1, arbitrary: fc.tuple(some, fc.integer({ min: 1, max: 3 })).map(([of, k]) => quorum(Math.min(k, of.length), ...of)) },
        { weight: 1, arbitrary: tie("node").map(no) },
      ),
    };
  }).node;
}

const asKeys = (sets: readonly (readonly string[])[]): string[] => sets.map((set) => set.toSorted().join("+")).sort();
const keysOf = ({ sets }: LyingSets): string[][] => sets.map((set) => set.map((liar) => liar.name));

describe("against trying every set and every history", () => {
  const signals = ["a", "b", "c"];
  const liars = new Map<string, readonly string[]>([["a", ["a"]], ["b", ["b"]], ["c", ["c"]], ["board", ["a", "b"]]]);
  const causesOf = (signal: string): string[] => (signal === "c" ? [] : ["board"]);

  it("finds the same sets where atoms ask for now or for a turn", () => {
    const atoms = signals.flatMap((signal) => [is(signal, 1), is(signal, 0), turned(signal, 1, 3)]);
    const choices = new Map(signals.map((signal) => [signal, distinctHistories(signal, atoms)]));
    fc.assert(
      fc.property(conditionOver(atoms), (condition) => {
        expect(asKeys(keysOf(lyingSets(structureOf(condition, causesOf))))).toEqual(asKeys(minimalByTrial(condition, choices, liars)));
      }),
      { numRuns: 100 },
    );
  });

  it("overlooks no set whatever the atoms ask", () => {
    const atoms = signals.flatMap((signal) => [
      is(signal, 0),
      is(signal, 1, { heldMs: min(2) }),
      is(signal, 0, { recentlyMs: min(3) }),
      is(signal, 1, { recentlyMs: min(1) }),
      turned(signal, 1, 2),
      turned(signal, 0, 4),
    ]);
    const choices = new Map(signals.map((signal) => [signal, distinctHistories(signal, atoms)]));
    fc.assert(
      fc.property(conditionOver(atoms), (condition) => {
        const listed = keysOf(lyingSets(structureOf(condition, causesOf)));
        for (const set of minimalByTrial(condition, choices, liars)) {
          expect(listed.some((one) => one.every((liar) => set.includes(liar)))).toBe(true);
        }
      }),
      { numRuns: 30 },
    );
  });
});
