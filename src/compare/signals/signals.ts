import { max, sum } from "d3-array";
import { chargedStretches, chargingTimeline, judgedTurns } from "../../truth/episodes/charging.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { SignalSpec, Site } from "../../site/site.js";
import { compareTurns, type TurnComparison } from "../../truth/episodes/compare-turns.js";
import { OFF, ON } from "../../timeline/timeline.js";
import { durations } from "../../timeline/durations.js";
import { agreementWith, judgedAgainst } from "./agreement.js";
import { eventCategories, NO_EVENTS } from "./event-categories.js";
import { siblingsOf } from "./siblings.js";
import { lagQuantiles, missedVisitShare, phantomRateOf, transitionCounts } from "./turn-scores.js";
import { noEstimate, RATE_UNIT } from "./units.js";
import type { Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";
import type { LagQuantiles, SignalScore } from "../../result/signals.js";

/**
 * Scores every signal of the site, in the site's order, each against a reference built without it; its delays against
 * that of `lagBook`, which leaves out what depends on it as well. Misses, phantoms and
 * event categories are charged only where the diary or two independent witnesses contradict it; agreement and lag blame
 * nobody and one other witness is enough for them. A signal that nobody else could judge, or that has no account, gets
 * null figures that say why, and does not stop the others. Whatever `book` throws is passed on: that is a fault of the
 * program. Episodes play no part: they contain the signal's own vote.
 */
export function scoreSignals(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  book: ReferenceBook,
  period: Interval,
  lagBook: ReferenceBook = book,
): SignalScore[] {
  return site.signals.map((signal) => {
    const account = accounts.get(signal.id);
    if (account === undefined) return blankScore(site, signal, "no account of the signal was made");
    return { ...blankScore(site, signal, "not judged"), ...ownFigures(account), ...judged(site, signal, account, accounts, { book, lagBook }, period) };
  });
}

/** What needs no reference. Silences and known share are over the account's own extent, which is the period. */
function ownFigures(account: SignalAccount): Pick<SignalScore, "readings" | "knownShare" | "silences" | "restarts" | "flaps"> {
  const { offMs, onMs, unknownMs } = durations(account.stirring ?? account.account);
  const silent = account.silences.map((silence) => (silence.to - silence.from) / HOUR_MS);
  return {
    readings: account.readingCount,
    knownShare: (offMs + onMs) / (offMs + onMs + unknownMs),
    silences: { count: silent.length, hours: sum(silent), longestHours: max(silent) ?? 0 },
    restarts: account.restarts.length,
    flaps: account.flapCount,
  };
}

type Judged = Pick<
  SignalScore,
  | "judgedAgainst"
  | "agreement"
  | "agreementGivenOn"
  | "agreementGivenOff"
  | "transitions"
  | "eventCategories"
  | "missedShare"
  | "phantomRate"
  | "lagOn"
  | "lagOff"
  | "siblings"
>;

/** The figures that need the reference without the signal, or its siblings. */
function judged(
  site: Site,
  signal: SignalSpec,
  account: SignalAccount,
  accounts: ReadonlyMap<string, SignalAccount>,
  { book, lagBook }: { readonly book: ReferenceBook; readonly lagBook: ReferenceBook },
  period: Interval,
): Judged {
  const reference = book(signal.subject, [signal.id]);
  const behind = lagBook === book ? reference : lagBook(signal.subject, [signal.id]);
  const [off, on] = judgedTurns(account, reference, site);
  const transitions = transitionCounts([off, on], chargedStretches(account, reference, [off, on], site));
  // Mostly nothing depends on the signal, and both references are the same.
  const turnsTo = (to: typeof OFF | typeof ON): TurnComparison => compareTurns(account, behind.timeline, to, site, behind.barriers);
  const [offLags, onLags] = behind === reference ? [off.comparison, on.comparison] : [turnsTo(OFF), turnsTo(ON)];
  const against = judgedAgainst(account.account, reference, period);
  const others = site.signals.filter((other) => other.subject === signal.subject && other.id !== signal.id && other.kind !== "stir");
  return {
    judgedAgainst: against,
    ...agreementWith(account.account, reference.timeline, site.confidence),
    ...(signal.kind === "stir" ? oneSidedAgreement : {}),
    transitions,
    eventCategories: eventCategories(account.account, chargingTimeline(reference), site.joinMs),
    missedShare: missedVisitShare(on, site.confidence),
    phantomRate: phantomRateOf(
      transitions.phantom,
      against.jointHours.charged * HOUR_MS,
      against.jointHours.disputed * HOUR_MS,
      site.confidence,
    ),
    lagOn: lagQuantiles(onLags, site.confidence),
    lagOff: lagQuantiles(offLags, site.confidence),
    siblings: signal.kind === "stir" ? [] : siblingsOf(signal, others, accounts, site.confidence),
  };
}

/** Of a stir signal: it speaks only while it notices somebody, so only the share of that time in which somebody was there means anything. */
const oneSidedAgreement = {
  agreementGivenOn: noEstimate("share", "it never says that nobody is here"),
  agreementGivenOff: noEstimate("share", "it never says that nobody is here"),
} as const;

/** A score that claims nothing: every figure null with `why`, nothing known, nothing counted. */
function blankScore(site: Site, signal: SignalSpec, why: string): SignalScore {
  const seconds = noEstimate("seconds", why);
  const lag: LagQuantiles = { median: seconds, p90: seconds, p95: seconds };
  return {
    signal: signal.id,
    subject: signal.subject,
    subjectClass: site.subjects.find((subject) => subject.id === signal.subject)?.class ?? "bay",
    kind: signal.kind,
    source: signal.source,
    model: signal.model,
    firmware: signal.firmware ?? null,
    shares: signal.shares,
    readings: 0,
    judgedAgainst: { hours: { diary: 0, several: 0, one: 0, none: 0 }, jointHours: { charged: 0, disputed: 0 }, witnesses: [] },
    agreement: noEstimate("share", why),
    agreementGivenOn: noEstimate("share", why),
    agreementGivenOff: noEstimate("share", why),
    transitions: { reference: 0, matched: 0, judged: 0, missed: 0, phantom: 0, fragmented: 0 },
    eventCategories: NO_EVENTS,
    missedShare: noEstimate("share", why),
    phantomRate: noEstimate(RATE_UNIT, why),
    lagOn: lag,
    lagOff: lag,
    knownShare: 0,
    silences: { count: 0, hours: 0, longestHours: 0 },
    restarts: 0,
    flaps: 0,
    siblings: [],
  };
}
