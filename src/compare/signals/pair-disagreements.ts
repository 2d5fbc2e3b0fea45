import { sum } from "d3-array";
import { chargingTimeline, vouchedEnough } from "../../truth/episodes/charging.js";
import { LAG_TOLERANCE_MS } from "../../truth/episodes/episode.js";
import { likelyInstant, matchInstants } from "../../truth/episodes/match-turns.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { SignalSpec, Site } from "../../site/site.js";
import { rateEstimate } from "../../statistics/rate.js";
import { OFF, ON, UNKNOWN } from "../../timeline/timeline.js";
import { turned } from "../../timeline/turned.js";
import { walkTogether } from "../../timeline/walk-together.js";
import { RATE_SPAN_MS, RATE_UNIT } from "./units.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { DAY_MS, HOUR_MS } from "../../ground/units.js";
import type { PairDisagreement } from "../../result/witnesses.js";

interface Contradiction {
  readonly from: number;
  readonly saidOn: 0 | 1;
  to: number;
  ms: number;
  toldMs: number;
}

/**
 * The pairs of a subject's signals that nobody could judge between for some time, in the site's order. A contradiction
 * lasts until they agree again or change sides; time at which either is unknown does not end it. It is not counted, but
 * is
 *  - lag, if it begins with a turn that the other one made too, within `join`;
 *  - a bounce, if it is wholly within a minute of a turn of the other one;
 *  - charged to one of the two, if the diary or several others tell which of them is wrong.
 */
export function pairDisagreements(
  site: Site,
  signals: readonly SignalSpec[],
  accounts: ReadonlyMap<string, SignalAccount>,
  book: ReferenceBook,
): PairDisagreement[] {
  const known = signals.flatMap(({ id, subject }) => {
    const account = accounts.get(id);
    return account === undefined ? [] : [{ id, account, without: chargingTimeline(book(subject, [id])) }];
  });
  return known.flatMap((one, i) => known.slice(i + 1).flatMap((other) => ofPair(one, other, site)));
}

type Known = { readonly id: string; readonly account: SignalAccount; readonly without: ReturnType<typeof chargingTimeline> };

function ofPair(one: Known, other: Known, site: Site): PairDisagreement[] {
  const found: Contradiction[] = [];
  let open: Contradiction | null = null;
  let jointMs = 0;
  walkTogether(
    [one.account.account, other.account.account, one.without, other.without],
    (from, to, [first, second, withoutFirst, withoutSecond]) => {
      if (first === UNKNOWN || second === UNKNOWN) return;
      const told = withoutFirst !== UNKNOWN || withoutSecond !== UNKNOWN;
      if (!told) jointMs += to - from;
      if (first === second) {
        open = null;
        return;
      }
      const saidOn = first === ON ? 0 : 1;
      if (open?.saidOn !== saidOn) {
        open = { from, saidOn, to, ms: 0, toldMs: 0 };
        found.push(open);
      }
      open.to = to;
      open.ms += to - from;
      if (told) open.toldMs += to - from;
    },
  );
  if (jointMs === 0) return [];
  const isLag = lagOf(one.account, other.account, site);
  const counted = found.filter((stretch) => !vouchedEnough(stretch.toldMs, stretch.ms, site.joinMs) && !isLag(stretch));
  return [
    {
      signals: [one.id, other.id],
      count: counted.length,
      hours: sum(counted, ({ ms }) => ms) / HOUR_MS,
      jointDays: jointMs / DAY_MS,
      perMonth: rateEstimate(counted.length, jointMs / RATE_SPAN_MS, site.confidence, RATE_UNIT),
    },
  ];
}

/** One for each of the two signals, or one for each of the states off and on. */
function forBoth<Made>(make: (which: 0 | 1) => Made): readonly [Made, Made] {
  return [make(0), make(1)];
}

/** Whether a contradiction is lag or a bounce. */
function lagOf(one: SignalAccount, other: SignalAccount, { joinMs, bridgeMs }: Site): (stretch: Contradiction) => boolean {
  const turnsOf = ({ account, restarts }: SignalAccount) => forBoth((to) => turned(account, to, { bridgeMs, barriers: restarts }));
  const turns = [turnsOf(one), turnsOf(other)] as const;
  const matches = forBoth((to) => matchInstants(turns[0][to].map(likelyInstant), turns[1][to].map(likelyInstant), joinMs));
  const matchedAt = forBoth((which) =>
    forBoth((to) => {
      const matched = which === 0 ? matches[to].ofReference : matches[to].ofSignal;
      return new Set(turns[which][to].filter((_, i) => matched[i] !== -1).map(({ at }) => at));
    }),
  );
  const instants = forBoth((which) =>
    turns[which]
      .flat()
      .map(({ at }) => at)
      .sort((a, b) => a - b),
  );
  const turnsNear = (which: 0 | 1, from: number, to: number): boolean =>
    (instants[which][firstAtOrAfter(instants[which], from)] ?? Infinity) <= to;
  return ({ from, to, saidOn }) => {
    const saidOff = saidOn === 0 ? 1 : 0;
    const onBegan = turnsNear(saidOn, from, from);
    const offBegan = turnsNear(saidOff, from, from);
    if (onBegan && matchedAt[saidOn][ON].has(from)) return true;
    if (offBegan && matchedAt[saidOff][OFF].has(from)) return true;
    // Without a turn at its beginning it was there when the history began, or when one of the two came back.
    if (!onBegan && !offBegan) return to - from <= joinMs;
    const stayed = onBegan ? saidOff : saidOn;
    return to - from <= LAG_TOLERANCE_MS && turnsNear(stayed, to - LAG_TOLERANCE_MS, from + LAG_TOLERANCE_MS);
  };
}
