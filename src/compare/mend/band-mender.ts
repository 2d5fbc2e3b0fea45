import type { Interval } from "../../ground/intervals.js";
import type { BandAdvice } from "../../result/witnesses.js";
import type { Site } from "../../site/site.js";
import { stateAt } from "../../timeline/state-at.js";
import { UNKNOWN } from "../../timeline/timeline.js";
import type { RetellableAccounts } from "../../truth/signals/accounts.js";
import type { SignalAccount } from "../../truth/signals/account.js";

/** Tells whether a signal, with the band that is advised for it, would have said the opposite in the middle of a stretch. */
export function bandMender(
  site: Site,
  bands: readonly BandAdvice[],
  { accounts, withBand }: RetellableAccounts,
): (signal: string, stretch: Interval) => boolean {
  const retold = new Map<string, SignalAccount | null>();
  const mended = (signal: string): SignalAccount | null => {
    const known = retold.get(signal);
    if (known !== undefined) return known;
    const advised = bands.find((one) => one.signal === signal)?.suggested ?? null;
    const band = site.signals.find(({ id }) => id === signal)?.band ?? null;
    const account = advised === null || band === null ? null : withBand(signal, { ...band, nearMetres: advised.nearMetres, farMetres: advised.farMetres });
    retold.set(signal, account);
    return account;
  };
  return (signal, { from, to }) => {
    const [before, after] = [accounts.get(signal), mended(signal)];
    if (before === undefined || after === null) return false;
    const at = Math.min(Math.max((from + to) / 2, before.account.start), before.account.end - 1);
    const [was, would] = [stateAt(before.account, at), stateAt(after.account, at)];
    return was !== UNKNOWN && would !== UNKNOWN && was !== would;
  };
}
