import { from, op } from "arquero";
import type { Episode } from "../episodes/episode.js";
import type { ReferenceBook } from "../reference/reference.js";
import type { SignalAccount } from "../signals/account.js";
import type { Site, Subject } from "../site/site.js";
import { shareEstimate } from "../statistics/share.js";
import { wilsonEstimate } from "../statistics/wilson.js";
import { durations } from "../timeline/durations.js";
import type { Interval } from "../timeline/timeline.js";
import { restrict } from "../timeline/restrict.js";
import { jointlyKnownMs } from "./agreement.js";
import { compareFaults } from "./bay-faults.js";
import type { BayScore, SignalScore } from "./score.js";
import { phantomRateOf } from "./turn-scores.js";
import { because } from "./units.js";

export type { BayFaults, BayScore } from "./score.js";

/** What one signal adds to its bay. `missedVisits` of `visits` are trials; `missed` of `turns` are turns of both directions. */
interface SignalRow {
  readonly bay: string;
  readonly visits: number;
  readonly missedVisits: number;
  readonly turns: number;
  readonly missed: number;
  readonly phantoms: number;
  readonly jointMs: number;
  readonly agreeingMs: number;
  readonly looks: number;
  readonly knownShare: number;
}

/** The sums over a bay's signals; `looks` is the most that any one had, since they all watched the same visits. */
type BayRow = SignalRow;

const nothing: Omit<BayRow, "bay"> = { visits: 0, missedVisits: 0, turns: 0, missed: 0, phantoms: 0, jointMs: 0, agreeingMs: 0, looks: 0, knownShare: 0 };

/**
 * Scores every bay of the site, in the site's order, from the scores of its signals, and compares the bays with each other.
 * Pooled figures treat the signals of a bay as separate witnesses: their trials and exposures add up. The agreement takes the
 * looks of one signal only, since all of them looked at the same visits.
 */
export function scoreBays(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  book: ReferenceBook,
  scores: readonly SignalScore[],
  episodes: readonly Episode[],
  period: Interval,
): BayScore[] {
  const bays = site.subjects.filter((subject) => subject.class === "bay");
  const pooled = poolByBay(scores.filter((score) => score.subjectClass === "bay").map((score) => signalRow(score, accounts, book)));
  const rows = bays.map((bay): BayRow => pooled.get(bay.id) ?? { bay: bay.id, ...nothing });
  const faults = compareFaults(rows.map(({ missed, turns, phantoms, jointMs }) => ({ missed, turns, phantoms, exposure: jointMs })), site.confidence);
  const movements = countMovements(episodes);
  return bays.map((bay, i) => {
    const row = rows[i]!;
    return {
      bay: bay.id,
      vehicle: bay.vehicle,
      arrivals: movements.get(`arrival ${bay.id}`) ?? 0,
      departures: movements.get(`departure ${bay.id}`) ?? 0,
      occupiedShare: occupiedShare(bay, book, period),
      signals: site.signals.filter((signal) => signal.subject === bay.id).map((signal) => signal.id),
      missedShare: because(shareEstimate(row.missedVisits, row.visits, site.confidence), "no visit fell where a signal of the bay could be judged"),
      phantomRate: because(phantomRateOf(row.phantoms, row.jointMs, site.confidence), "no signal of the bay could be judged at any time"),
      agreement: because(wilsonEstimate(row.jointMs === 0 ? 0 : Math.min(1, row.agreeingMs / row.jointMs), row.looks, site.confidence), "no signal of the bay could be judged at any time"),
      knownShare: row.knownShare,
      faults: faults[i]!,
    };
  });
}

function signalRow(score: SignalScore, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook): SignalRow {
  const account = accounts.get(score.signal);
  const jointMs = account === undefined ? 0 : jointlyKnownMs(account.account, book(score.subject, [score.signal]).timeline);
  const { matched, missed, phantom } = score.transitions;
  return {
    bay: score.subject,
    visits: score.missedShare.count,
    missedVisits: Math.round((score.missedShare.value ?? 0) * score.missedShare.count),
    turns: matched + missed,
    missed,
    phantoms: phantom,
    jointMs,
    agreeingMs: (score.agreement.value ?? 0) * jointMs,
    looks: score.agreement.count,
    knownShare: score.knownShare,
  };
}

function poolByBay(rows: readonly SignalRow[]): Map<string, BayRow> {
  if (rows.length === 0) return new Map();
  const table = from([...rows])
    .groupby("bay")
    .rollup({
      visits: op.sum("visits"),
      missedVisits: op.sum("missedVisits"),
      turns: op.sum("turns"),
      missed: op.sum("missed"),
      phantoms: op.sum("phantoms"),
      jointMs: op.sum("jointMs"),
      agreeingMs: op.sum("agreeingMs"),
      looks: op.max("looks"),
      knownShare: op.mean("knownShare"),
    });
  return new Map((table.objects() as BayRow[]).map((row) => [row.bay, row]));
}

/** How often each bay took part in an arrival or a departure; keys are kind and bay. */
function countMovements(episodes: readonly Episode[]): Map<string, number> {
  const rows = episodes.flatMap((episode) => episode.subjects.map((subject) => ({ key: `${episode.kind} ${subject}` })));
  if (rows.length === 0) return new Map();
  const counted = from(rows).groupby("key").count().objects() as { key: string; count: number }[];
  return new Map(counted.map(({ key, count }) => [key, count]));
}

/** Share of the known time; null where nothing is known. */
function occupiedShare(bay: Subject, book: ReferenceBook, period: Interval): number | null {
  const { offMs, onMs } = durations(restrict(book(bay.id, []).timeline, period.from, period.to));
  return offMs + onMs === 0 ? null : onMs / (offMs + onMs);
}
