import { emptyNotes } from "../bands/empty-notes.js";
import { learnEmpties, rangesOf } from "../bands/empty-reading.js";
import type { Readings } from "../../intake/readings.js";
import { localText } from "../../intake/period.js";
import { retellableAccounts, type RetellableAccounts } from "./accounts.js";
import { motionless } from "./motionless.js";
import { oneSided, silenced, type OneSided } from "./one-sided.js";
import type { Quiet, QuietWhat } from "./quiet.js";
import type { Site } from "../../site/site.js";
import { stateWords } from "../../site/state-words.js";
import { DAY_MS, HOUR_MS } from "../../ground/units.js";
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
      ...oneSidedNotes(refused),
      ...motionlessNotes(site, told, period),
      ...emptyNotes(site, empties, accounts),
    ],
  };
}

function oneSidedNotes(refused: readonly OneSided[]): string[] {
  return refused.map(
    ({ signal, why }) =>
      `${signal} is not used, for it seems to notice movement only: ${why}. Who sits still would be away to it. So it counts as unknown throughout, and a rule that needs it can neither fire nor be cleared. ` +
      `Take it out of the site file, or give it the words of a sensor that knows both states.`,
  );
}

function motionlessNotes(site: Site, { accounts }: Pick<RetellableAccounts, "accounts">, period: Interval): string[] {
  const classes = new Map(site.subjects.map(({ id, class: subjectClass }) => [id, subjectClass]));
  return motionless(site, accounts, period).map(({ subject, state }) => {
    const words = stateWords[lookUp(classes, subject)];
    const signals = site.signals.filter((one) => one.subject === subject).map(({ id }) => id);
    return `${signals.join(" and ")} said that ${subject} is ${state === 1 ? words.on : words.off} in all of the ${Math.floor((period.to - period.from) / DAY_MS)} days, though others moved. If that was so, all is well; if not, ${signals.length === 1 ? "that signal does" : "these signals do"} not notice ${subject}.`;
  });
}

/**
 * A note on every quiet, except those that a wider group's quiet explains for the greater part. `quiets`: widest groups
 * first.
 */
export function quietNotes(quiets: readonly Quiet[], timeZone: string): string[] {
  const told: Quiet[] = [];
  for (const quiet of quiets) if (!told.some((wider) => explains(wider, quiet))) told.push(quiet);
  return told
    .toSorted((a, b) => a.from - b.from)
    .map(({ what, signals, from, to, usualMs }) => {
      const until =
        to === Infinity
          ? `From ${localText(from, timeZone)} on nothing ${whatText(what, signals)} was heard any more`
          : `Nothing ${whatText(what, signals)} was heard from ${localText(from, timeZone)} to ${localText(to, timeZone)} (${lengthText(to - from)})`;
      const usual = usualMs <= HOUR_MS ? "an hour" : lengthText(usualMs);
      return `${until}, though it was never quiet for longer than ${usual} else: was it down? What happened then went unseen, and ${namesText(signals)} are unknown in that time. If nobody was there, say so in the diary.`;
    });
}

function explains(wider: Quiet, quiet: Quiet): boolean {
  const shared = Math.min(wider.to, quiet.to) - Math.max(wider.from, quiet.from);
  return quiet.signals.every((signal) => wider.signals.includes(signal)) && (wider.to === quiet.to || shared > (quiet.to - quiet.from) / 2);
}

/**
 * A source is named by one of its signals: redaction knows the names of all signals, so a redacted note gives none
 * away.
 */
function whatText(what: QuietWhat, signals: readonly string[]): string {
  if (what.form === "site") return "at all";
  return what.form === "source" ? `from the source that ${signals[0]} is in` : `that depends on ${what.name}`;
}

const MOST_NAMES = 6;

function namesText(signals: readonly string[]): string {
  return signals.length <= MOST_NAMES
    ? signals.join(", ")
    : `${signals.slice(0, MOST_NAMES - 1).join(", ")} and ${signals.length - MOST_NAMES + 1} more signals`;
}

function lengthText(ms: number): string {
  return ms >= 3 * DAY_MS ? `${Number((ms / DAY_MS).toFixed(1))} days` : `${Math.round(ms / HOUR_MS)} h`;
}
