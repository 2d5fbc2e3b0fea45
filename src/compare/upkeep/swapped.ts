import type { Upkeep } from "../../result/upkeep.js";
import type { Site } from "../../site/site.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { agreementWith } from "../signals/agreement.js";

/** A sensor that agrees with its own subject as well as this is in its place. Our own choice. */
const IN_PLACE = 0.95;
/** Two that agree with each other's subject this much better than with their own are swapped. Our own choice. */
const CLEARLY_BETTER = 0.03;
/** And as well as this. Our own choice. */
const CROSSED_WELL = 0.97;

/** Pairs of sensors of one kind and source whose channels look swapped: each tells of the subject of the other. */
export function swappedSensors(site: Site, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook): Upkeep["swapped"][number][] {
  const agree = (signal: string, subject: string, without: readonly string[]): number | null => {
    const account = accounts.get(signal);
    return account === undefined ? null : agreementWith(account.account, book(subject, without).timeline, site.confidence).agreement.value;
  };
  const odd = site.signals.flatMap((spec) => {
    const own = agree(spec.id, spec.subject, [spec.id]);
    return own === null || own >= IN_PLACE ? [] : [{ spec, own }];
  });
  return odd.flatMap((one, i) =>
    odd.slice(i + 1).flatMap((other): Upkeep["swapped"][number][] => {
      const alike = one.spec.kind === other.spec.kind && one.spec.source === other.spec.source && one.spec.subject !== other.spec.subject;
      if (!alike) return [];
      const [there, here] = [agree(one.spec.id, other.spec.subject, [other.spec.id]), agree(other.spec.id, one.spec.subject, [one.spec.id])];
      if (there === null || here === null || Math.min(there, here) < CROSSED_WELL) return [];
      if (there < one.own + CLEARLY_BETTER || here < other.own + CLEARLY_BETTER) return [];
      return [{ signals: [one.spec.id, other.spec.id], own: [one.own, other.own], crossed: [there, here] }];
    }),
  );
}
