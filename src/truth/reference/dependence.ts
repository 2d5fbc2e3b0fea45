import { group } from "d3-array";
import type { DiaryEntry, Readings } from "../../intake/readings.js";
import type { SignalAccount } from "../signals/account.js";
import type { Site } from "../../site/site.js";
import { makeReferenceBook } from "./book.js";
import { type PairFound, silentTogether, turnTogether, wrongTogether } from "./dependence-tests.js";
import { witnessesOf, type Witness } from "./witness.js";
import type { Interval } from "../../ground/intervals.js";
import type { Dependence } from "../../result/references.js";

/**
 * Over all pairs and tests of a site, chance finds something in at most this share of honest months. Our own choice.
 */
const FALSE_ALARMS = 0.01;
const TESTS_A_PAIR = 4;

/**
 * Pairs of signals, of one subject or of two, that coincide more than chance and the truth allow: their turns keep one
 * lag to the second, they are wrong together, or they fall silent together. Pairs already connected by shared causes
 * are skipped. Each test is exact or errs on the safe side; p-values are compared with {@link FALSE_ALARMS} divided by
 * the number of tests (Bonferroni).
 *
 * It cannot find two that err together but see true turns each in its own time, if only a single third witness denies
 * them: the third may as well be the one that is wrong.
 *
 * `readings`, if given, show which pairs a recorder polls at the same instants: their turns fall on one grid by
 * themselves.
 */
export function findDependences(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  diary: readonly DiaryEntry[],
  period: Interval,
  readings?: ReadonlyMap<string, Readings>,
): Dependence[] {
  const declared = witnessesOf(site, accounts);
  const pairs = pairsOf(declared);
  const found = (how: PairTest): Dependence[] =>
    pairs.flatMap(([one, other]) => {
      const telling = how(one, other).filter(({ chance }) => chance * pairs.length * TESTS_A_PAIR <= FALSE_ALARMS);
      return telling.map((test): Dependence => ({
        signals: [one.id, other.id],
        how: test.how,
        text: test.text,
        declaredIndependent: isDeclared(site, one.id, other.id),
      }));
    });

  // 1. What the instants show.
  const bySubject = group(declared, (one) => one.subject);
  const turns = turnTogether(readings);
  const thirdsTo = (one: Witness, other: Witness): Witness[] =>
    (bySubject.get(one.subject) ?? []).filter((third) => third.group !== one.group && third.group !== other.group);
  const instants = [
    ...found((one, other) => turns(one, other, thirdsTo(one, other))),
    ...found(silentTogether(declared, site, period)),
  ];

  // 2. Errors, by a reference that counts those pairs as one witness already: or a pair would make two others look
  // wrong together.
  const known = detectedPairs(instants);
  const errors = wrongTogether(witnessesOf(site, accounts, known), diary, makeReferenceBook(site, accounts, diary, period, known), period);
  const all = [...instants, ...found((one, other) => errors(one.id, other.id))];
  return pairs.flatMap(([one, other]) => all.filter(({ signals: [a, b] }) => a === one.id && b === other.id));
}

type PairTest = (one: Witness, other: Witness) => readonly PairFound[];

/** Pairs of different groups, in the order of the site file. */
function pairsOf(witnesses: readonly Witness[]): (readonly [Witness, Witness])[] {
  return witnesses.flatMap((one, i) =>
    witnesses.slice(i + 1).flatMap((other) => (one.group === other.group ? [] : [[one, other] as const])),
  );
}

/** The pairs that count as one witness: found to depend on one another, and not declared independent. Each once. */
export function detectedPairs(dependences: readonly Dependence[]): (readonly [string, string])[] {
  const pairs = dependences.filter((one) => !one.declaredIndependent).map((one) => one.signals);
  return [...new Map(pairs.map((pair) => [JSON.stringify(pair), pair])).values()];
}

/** One sentence for each pair: what was seen and what follows from it. */
export function dependenceNotes(dependences: readonly Dependence[]): string[] {
  const byPair = new Map<string, { readonly first: Dependence; readonly texts: string[] }>();
  for (const one of dependences) {
    const key = JSON.stringify(one.signals);
    const pair = byPair.get(key) ?? { first: one, texts: [] };
    pair.texts.push(one.text);
    byPair.set(key, pair);
  }
  return [...byPair.values()].map(({ first, texts }) => {
    const [a, b] = first.signals;
    const seen = `${a} and ${b} ${texts.join(" and ")}`;
    return first.declaredIndependent
      ? `${seen}. They still count as two independent sensors, because the site file says so.`
      : `${seen}: they count as one sensor until the site file says what they share (“shares”) or why they are independent (“independent”).`;
  });
}

function isDeclared(site: Site, a: string, b: string): boolean {
  const says = (from: string, to: string): boolean =>
    site.signals.some(({ id, independent }) => id === from && independent?.of.includes(to) === true);
  return says(a, b) || says(b, a);
}
