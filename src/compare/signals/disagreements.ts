import { LAG_TOLERANCE_MS } from "../../truth/episodes/episode.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { Site, Subject } from "../../site/site.js";
import { restrict } from "../../timeline/restrict.js";
import { OFF, ON, stateNames, UNKNOWN, type Timeline, type TruthState } from "../../timeline/timeline.js";
import { walkTogether } from "../../timeline/walk-together.js";
import { pairDisagreements } from "./pair-disagreements.js";
import { totalMs, type Interval } from "../../ground/intervals.js";
import { HOUR_MS, MINUTE_MS } from "../../ground/units.js";
import type { Disagreement, SubjectDisagreements } from "../../result/witnesses.js";

/** A state in a word, as timing diagrams write it. */
export type StateWord = "on" | "off" | "unknown";

/** A step line of a timing diagram: from each instant (epoch milliseconds) on, the state in a word. */
export interface ExcerptLane {
  readonly label: string;
  readonly role: "signal" | "reference";
  readonly steps: readonly (readonly [number, StateWord])[];
}

/** At most this many are listed for each subject: a reader looks at the first few. Our own choice. */
const MOST_LISTED = 10;
/** An excerpt shows this much on both sides, or a tenth of the stretch where that is more. Our own choice. */
const AROUND_MS = 10 * MINUTE_MS;
const AROUND_SHARE = 0.1;

/**
 * Every subject's disagreements, in the site's order. One lasts while the same signals say on, the same say off, and
 * the same ones contradict their reference; when a side changes the next begins. If nothing is known of a subject, only
 * its signals can differ among themselves.
 */
export function findDisagreements(site: Site, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook): SubjectDisagreements[] {
  return site.subjects.map((subject) => ofSubject(subject, site, accounts, book));
}

/** A disagreement that is being walked over. */
interface OpenDisagreement {
  readonly from: number;
  to: number;
  readonly key: string;
  readonly saidOn: readonly string[];
  readonly saidOff: readonly string[];
  readonly againstReference: readonly string[];
  readonly referenceMs: [number, number, number];
}

function ofSubject(subject: Subject, site: Site, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook): SubjectDisagreements {
  const signals = site.signals.flatMap(({ id, subject: on }) => {
    const account = accounts.get(id)?.account;
    return on === subject.id && account !== undefined ? [{ id, account, without: book(subject.id, [id]).timeline }] : [];
  });
  const reference = book(subject.id, []).timeline;
  const found: OpenDisagreement[] = [];
  let open: OpenDisagreement | null = null;
  walkTogether([reference, ...signals.map((one) => one.account), ...signals.map((one) => one.without)], (from, to, states) => {
    const saying = (state: TruthState): string[] => signals.flatMap(({ id }, i) => (states[1 + i] === state ? [id] : []));
    const [saidOn, saidOff] = [saying(ON), saying(OFF)];
    const againstReference = signals.flatMap(({ id }, i) =>
      areOpposite(states[1 + i], states[1 + signals.length + i]) ? [id] : [],
    );
    const differs = (saidOn.length > 0 && saidOff.length > 0) || againstReference.length > 0;
    const key = JSON.stringify([saidOn, saidOff, againstReference]);
    if (!differs) open = null;
    else if (open?.key === key) open.to = to;
    else {
      open = { from, to, key, saidOn, saidOff, againstReference, referenceMs: [0, 0, 0] };
      found.push(open);
    }
    if (open !== null) open.referenceMs[states[0]] += to - from;
  });
  const lanes = [
    ...signals.map(({ id, account }) => ({ label: id, role: "signal" as const, timeline: account })),
    { label: subject.id, role: "reference" as const, timeline: reference },
  ];
  const pairs = pairDisagreements(
    site,
    site.signals.filter((one) => one.subject === subject.id),
    accounts,
    book,
  );
  return {
    subject: subject.id,
    pairs,
    count: found.length,
    brief: found.filter((one) => one.to - one.from <= LAG_TOLERANCE_MS).length,
    hours: totalMs(found) / HOUR_MS,
    list: found
      .toSorted((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from)
      .slice(0, MOST_LISTED)
      .map((one) => ({
        from: one.from,
        to: one.to,
        saidOn: one.saidOn,
        saidOff: one.saidOff,
        againstReference: one.againstReference,
        reference: longest(one.referenceMs),
        excerpt: excerptOf(one, lanes, reference),
      })),
  };
}

function longest(ms: readonly [number, number, number]): StateWord {
  const most = Math.max(...ms);
  // Of two equal ones take the less certain.
  return stateNames[([UNKNOWN, OFF, ON] as const).find((state) => ms[state] === most) ?? UNKNOWN];
}

function areOpposite(one: TruthState | undefined, other: TruthState | undefined): boolean {
  return (one === ON && other === OFF) || (one === OFF && other === ON);
}

function excerptOf(
  stretch: Interval,
  lanes: readonly { readonly label: string; readonly role: ExcerptLane["role"]; readonly timeline: Timeline }[],
  { start, end }: Timeline,
): Disagreement["excerpt"] {
  const around = Math.max(AROUND_MS, AROUND_SHARE * (stretch.to - stretch.from));
  const [from, to] = [Math.max(start, stretch.from - around), Math.min(end, stretch.to + around)];
  return { from, to, lanes: lanes.map(({ label, role, timeline }) => ({ label, role, steps: stepsOf(restrict(timeline, from, to)) })) };
}

function stepsOf(timeline: Timeline): ExcerptLane["steps"] {
  return Array.from(timeline.times, (at, i) => [at, stateNames[timeline.states[i] as TruthState]] as const);
}
