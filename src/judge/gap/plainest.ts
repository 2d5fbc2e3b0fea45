/* eslint-disable @typescript-eslint/no-non-null-assertion -- a place names a change that the scene has */
import { lookUp } from "../../ground/look-up.js";
import { ofSubject } from "./by-subject.js";
import type { ChangePlace, LagRange, SceneChange, SceneSubject, SignalLags } from "./gap.js";
import type { GapQuestion } from "./question.js";
import { changesOf, isGap, isTruthful, withChange } from "./scene.js";

/**
 * The same gap with every lag that does not matter brought as near to "at once" as its sensor allows, and whoever does
 * not move away, empty or closed where that does not matter. What is late in the result has to be late, and only that
 * is worth telling.
 */
export function plainest(scene: readonly SceneSubject[], trigger: ChangePlace, question: GapQuestion, lags: SignalLags): SceneSubject[] {
  let plain = [...scene];
  const keepIfGap = (tried: SceneSubject[]): boolean => {
    if (!isTruthful(tried, lags) || !isGap(tried, trigger, question)) return false;
    plain = tried;
    return true;
  };
  for (const { subject } of scene.filter(({ changes }) => changes.length === 0)) keepIfGap(plain.map((one) => (one.subject === subject ? { ...one, first: 0 } : one)));
  for (const place of changesOf(scene)) {
    const current = (): SceneChange => ofSubject(plain, place.subject).changes[place.change]!;
    // First all signals at once, the change itself moved to where one of them tells it, or left where it is.
    const instants = [...place.told.map(({ signal, at }) => at - shortest(lookUp(lags, signal))), place.at];
    if (instants.some((at) => keepIfGap(withChange(plain, place, { at, told: place.told.map(({ signal }) => ({ signal, at: at + shortest(lookUp(lags, signal)) })) })))) continue;
    // Then one by one, the change moved along with the first, so that the time at which the rule sees it stays.
    for (const { signal, at: told } of place.told) keepIfGap(withChange(plain, place, { ...current(), at: told - shortest(lookUp(lags, signal)) }));
    for (const { signal } of place.told) {
      const { at, told } = current();
      keepIfGap(withChange(plain, place, { at, told: told.map((one) => (one.signal === signal ? { signal, at: at + shortest(lookUp(lags, signal)) } : one)) }));
    }
  }
  return plain;
}

/** The lag nearest to none. */
export function shortest({ leastMs, mostMs }: LagRange): number {
  return Math.min(Math.max(0, leastMs), mostMs);
}
