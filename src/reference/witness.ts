import type { SignalAccount } from "../signals/account.js";
import type { Site, SubjectClass } from "../site/site.js";
import { UNKNOWN, type Interval, type Timeline } from "../timeline/timeline.js";
import { changesOf, type Changes } from "./changes.js";

/** A signal as a witness: what it says of its subject, what that leans on, and what was made ready once for every reference. */
export interface Witness {
  readonly id: string;
  readonly subject: string;
  readonly class: SubjectClass;
  /** Shared causes: witnesses that have one in common can be fooled together. */
  readonly shares: readonly string[];
  readonly account: Timeline;
  readonly restarts: readonly Interval[];
  readonly changes: Changes;
  /** Instants of the changes that were seen, in order. */
  readonly movements: Float64Array;
  /** Instants at which it becomes known or unknown, in order. */
  readonly edges: Float64Array;
}

/** The site's signals that have an account, in the site file's order. One without has nothing to say. */
export function witnessesOf(site: Site, accounts: ReadonlyMap<string, SignalAccount>): Witness[] {
  const classes = new Map(site.subjects.map((subject) => [subject.id, subject.class]));
  return site.signals.flatMap((signal) => {
    const account = accounts.get(signal.id);
    const subjectClass = classes.get(signal.subject);
    if (account === undefined || subjectClass === undefined) return [];
    const changes = changesOf(account, site.bridgeMs);
    return [
      {
        id: signal.id,
        subject: signal.subject,
        class: subjectClass,
        shares: signal.shares,
        account: account.account,
        restarts: account.restarts,
        changes,
        movements: changes.at.filter((_, i) => changes.seen[i] === 1),
        edges: knownEdges(account.account),
      },
    ];
  });
}

/** Whether two have a cause in common. */
export function haveCommonCause(one: Pick<Witness, "shares">, other: Pick<Witness, "shares">): boolean {
  return one.shares.some((cause) => other.shares.includes(cause));
}

function knownEdges(account: Timeline): Float64Array {
  const edges: number[] = [];
  for (let i = 1; i < account.times.length; i += 1) {
    if ((account.states[i] === UNKNOWN) !== (account.states[i - 1] === UNKNOWN)) edges.push(account.times[i]!);
  }
  return Float64Array.from(edges);
}
