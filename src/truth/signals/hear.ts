import { emptyNotes } from "../bands/empty-notes.js";
import { learnEmpties, rangesOf } from "../bands/empty-reading.js";
import type { Readings } from "../../intake/readings.js";
import { retellableAccounts, type RetellableAccounts } from "./accounts.js";
import { motionless } from "./motionless.js";
import { oneSided, silenced, type OneSided } from "./one-sided.js";
import { quietNotes } from "./quiet-notes.js";
import type { Site } from "../../site/site.js";
import { stateWords } from "../../site/state-words.js";
import { DAY_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import { lookUp } from "../../ground/look-up.js";

/** Every signal's account, and what a reader must know of the signals before believing a figure, the gravest first. */
export interface HeardSignals {
  readonly told: RetellableAccounts;
  readonly notes: readonly string[];
}

/** From readings to accounts: how empty bays read is learnt first, and signals that are no evidence are silenced. */
export function hearSignals(site: Site, readings: ReadonlyMap<string, Readings>, period: Interval): HeardSignals {
  const empties = learnEmpties(site, readings);
  const all = retellableAccounts(site, readings, period, rangesOf(empties));
  const refused = oneSided(site, all.accounts);
  const names = new Set(refused.map(({ signal }) => signal));
  const accounts = new Map([...all.accounts].map(([id, account]) => [id, names.has(id) ? silenced(account) : account]));
  const told = { ...all, accounts };
  return {
    told,
    notes: [
      ...quietNotes(all.quiets, site.timeZone),
      ...oneSidedNotes(refused, site),
      ...motionlessNotes(site, told, period),
      ...emptyNotes(site, empties, accounts),
    ],
  };
}

function oneSidedNotes(refused: readonly OneSided[], { signals, subjects }: Site): string[] {
  const people = new Set(subjects.flatMap((one) => (one.class === "person" ? [one.id] : [])));
  const onPeople = new Set(signals.flatMap(({ id, subject }) => (people.has(subject) ? [id] : [])));
  return refused.map(
    ({ signal, why }) =>
      `${signal} is not used, because it seems to notice only movement: ${why}. Somebody who sits still would count as away. So it is unknown all the time, and a rule that needs it can neither fire nor be cleared. ` +
      `${onPeople.has(signal) ? "Give it “kind: stir”, of which only what it notices is believed" : "Take it out of the site file"}, or use a sensor that tells both states.`,
  );
}

function motionlessNotes(site: Site, { accounts }: Pick<RetellableAccounts, "accounts">, period: Interval): string[] {
  const classes = new Map(site.subjects.map(({ id, class: subjectClass }) => [id, subjectClass]));
  return motionless(site, accounts, period).map(({ subject, state }) => {
    const words = stateWords[lookUp(classes, subject)];
    const signals = site.signals.filter((one) => one.subject === subject).map(({ id }) => id);
    return `${signals.join(" and ")} said that ${subject} is ${state === 1 ? words.on : words.off} in all of the ${Math.floor((period.to - period.from) / DAY_MS)} days, though others moved. If that is right, all is well; if not, ${signals.length === 1 ? "that signal does" : "these signals do"} not notice ${subject}.`;
  });
}
