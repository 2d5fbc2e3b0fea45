import type { SignalAccount } from "../signals/account.js";
import type { Site, SubjectClass } from "../../site/site.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { changesOf, type Changes } from "./changes.js";
import { evidenceGroups } from "./evidence-groups.js";
import type { Interval } from "../../ground/intervals.js";

/** A signal as a witness: what it says of its subject, what that leans on, and what was made ready once for every reference. */
export interface Witness {
  readonly id: string;
  readonly subject: string;
  readonly class: SubjectClass;
  /** Shared causes, as the site file declares them. */
  readonly shares: readonly string[];
  /** Name of the group of all the site's signals that are connected through shared causes, by any chain, or were seen to hang together ({@link evidenceGroups}). */
  readonly group: string;
  /** Others that it was seen to hang together with, though nothing that they share is declared. */
  readonly twins: readonly string[];
  readonly account: Timeline;
  readonly restarts: readonly Interval[];
  readonly changes: Changes;
  /** Instants of the changes that were seen, in order. */
  readonly movements: Float64Array;
  /** Instants at which it becomes known or unknown, in order. */
  readonly edges: Float64Array;
}

/**
 * The site's signals that have an account, in the site file's order. One without has nothing to say, but may still connect two others:
 * groups are made over all signals of the site, of whatever subject, and pairs `detected` to hang together.
 */
export function witnessesOf(site: Site, accounts: ReadonlyMap<string, SignalAccount>, detected: readonly (readonly [string, string])[] = []): Witness[] {
  const groups = evidenceGroups(site, detected);
  const classes = new Map(site.subjects.map((subject) => [subject.id, subject.class]));
  return site.signals.flatMap((signal) => {
    const told = accounts.get(signal.id);
    const subjectClass = classes.get(signal.subject);
    if (told === undefined || subjectClass === undefined) return [];
    // A witness says no more than its signal vouches for.
    const account = { ...told, account: told.vote ?? told.account };
    const changes = changesOf(account, site.bridgeMs);
    return [
      {
        id: signal.id,
        subject: signal.subject,
        class: subjectClass,
        shares: signal.shares,
        group: groups.get(signal.id)!,
        twins: detected.flatMap(([a, b]) => (a === signal.id ? [b] : b === signal.id ? [a] : [])),
        account: account.account,
        restarts: account.restarts,
        changes,
        movements: changes.at.filter((_, i) => changes.seen[i] === 1),
        edges: knownEdges(account.account),
      },
    ];
  });
}

/** Whether one thing may fool both: they are of one group, connected through shared causes by any chain. */
export function haveCommonCause(one: Pick<Witness, "group">, other: Pick<Witness, "group">): boolean {
  return one.group === other.group;
}

function knownEdges(account: Timeline): Float64Array {
  const edges: number[] = [];
  for (let i = 1; i < account.times.length; i += 1) {
    if ((account.states[i] === UNKNOWN) !== (account.states[i - 1] === UNKNOWN)) edges.push(account.times[i]!);
  }
  return Float64Array.from(edges);
}
