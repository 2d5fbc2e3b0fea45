import { rollup, sum } from "d3-array";
import { from, op } from "arquero";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { Site, Subject } from "../../site/site.js";
import { shareEstimate } from "../../statistics/share.js";
import { wilsonEstimate } from "../../statistics/wilson.js";
import { durations } from "../../timeline/durations.js";
import { restrict } from "../../timeline/restrict.js";
import { compareFaults, type FaultRecord } from "./bay-faults.js";
import { phantomRateOf } from "../signals/turn-scores.js";
import { because } from "../signals/units.js";
import type { Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";
import type { Episode } from "../../result/episodes.js";
import type { SubjectDisagreements } from "../../result/witnesses.js";
import type { BayScore, SignalScore } from "../../result/signals.js";

/**
 * What one signal contributes to its bay. `missedVisits` of `visits` are trials; `missed` of `turns` are turns of both
 * directions; phantoms fall in `chargedMs`.
 */
interface SignalRow {
  readonly bay: string;
  readonly visits: number;
  readonly missedVisits: number;
  readonly turns: number;
  readonly missed: number;
  readonly phantoms: number;
  readonly chargedMs: number;
  readonly disputedMs: number;
  readonly agreeingMs: number;
  readonly looks: number;
  readonly knownShare: number;
}

/** The sums over a bay's signals; `looks` is the most that any one had, since they all watched the same visits. */
type BayRow = SignalRow;

const nothing: Omit<BayRow, "bay"> = {
  visits: 0,
  missedVisits: 0,
  turns: 0,
  missed: 0,
  phantoms: 0,
  chargedMs: 0,
  disputedMs: 0,
  agreeingMs: 0,
  looks: 0,
  knownShare: 0,
};

/**
 * Scores every bay of the site, in the site's order, from the scores of its signals, and compares the bays with each
 * other. Pooled figures treat the signals of a bay as separate witnesses: their trials and exposures add up. The
 * agreement takes the looks of one signal only, since all of them looked at the same visits. If two signals of a bay
 * differ and nobody can tell which is wrong, the bay still has one fault, that of the pair.
 */
export function scoreBays(
  site: Site,
  book: ReferenceBook,
  scores: readonly SignalScore[],
  disagreements: readonly SubjectDisagreements[],
  episodes: readonly Episode[],
  period: Interval,
): BayScore[] {
  const bays = site.subjects.filter((subject) => subject.class === "bay");
  const pooled = poolByBay(scores.filter((score) => score.subjectClass === "bay").map((score) => signalRow(score)));
  const pairsOf = new Map(disagreements.map(({ subject, pairs }) => [subject, pairs]));
  const rows = bays.map((bay): { readonly bay: typeof bay; readonly row: BayRow } => ({ bay, row: pooled.get(bay.id) ?? { bay: bay.id, ...nothing } }));
  const faults = compareFaults(
    rows.map(({ row }) => faultRecord(row, pairsOf.get(row.bay) ?? [])),
    site.confidence,
  );
  const movements = countMovements(episodes);
  return rows.map(({ bay, row }, i) => {
    const jointMs = row.chargedMs + row.disputedMs;
    return {
      bay: bay.id,
      vehicle: bay.vehicle,
      arrivals: movements.get(`arrival ${bay.id}`) ?? 0,
      departures: movements.get(`departure ${bay.id}`) ?? 0,
      occupiedShare: occupiedShare(bay, book, period),
      signals: site.signals.filter((signal) => signal.subject === bay.id).map((signal) => signal.id),
      missedShare: because(
        shareEstimate(row.missedVisits, row.visits, site.confidence),
        noneJudged(row, "no visit came while a signal of the bay could be judged"),
      ),
      phantomRate: because(phantomRateOf(row.phantoms, row.chargedMs, 0, site.confidence), noneJudged(row, NEVER_JUDGED)),
      agreement: because(
        wilsonEstimate(jointMs === 0 ? 0 : Math.min(1, row.agreeingMs / jointMs), row.looks, site.confidence),
        NEVER_JUDGED,
      ),
      knownShare: row.knownShare,
      // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- there is a finding for each row
      faults: faults[i]!,
    };
  });
}

const NEVER_JUDGED = "no signal of the bay could be judged at any time";

/** Why a bay has no figure: its sensors are two, or were never judged. */
function noneJudged({ disputedMs }: BayRow, otherwise: string): string {
  return disputedMs > 0 ? "only two sensors watch the bay, so nobody can tell which of them is wrong" : otherwise;
}

function faultRecord(row: BayRow, pairs: SubjectDisagreements["pairs"]): FaultRecord {
  return {
    missed: row.missed,
    turns: row.turns,
    phantoms: row.phantoms,
    exposure: row.chargedMs,
    differing: sum(pairs, (pair) => pair.count),
    pairExposure: sum(pairs, (pair) => pair.jointDays),
  };
}

function signalRow(score: SignalScore): SignalRow {
  const { charged, disputed } = score.judgedAgainst.jointHours;
  const { judged, missed, phantom } = score.transitions;
  return {
    bay: score.subject,
    visits: score.missedShare.count,
    missedVisits: Math.round((score.missedShare.value ?? 0) * score.missedShare.count),
    turns: judged,
    missed,
    phantoms: phantom,
    chargedMs: charged * HOUR_MS,
    disputedMs: disputed * HOUR_MS,
    agreeingMs: (score.agreement.value ?? 0) * (charged + disputed) * HOUR_MS,
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
      chargedMs: op.sum("chargedMs"),
      disputedMs: op.sum("disputedMs"),
      agreeingMs: op.sum("agreeingMs"),
      looks: op.max("looks"),
      knownShare: op.mean("knownShare"),
    });
  return new Map((table.objects() as BayRow[]).map((row) => [row.bay, row]));
}

/** How often each bay took part in an arrival or a departure; keys are kind and bay. */
function countMovements(episodes: readonly Episode[]): Map<string, number> {
  const rows = episodes.flatMap((episode) => episode.subjects.map((subject) => `${episode.kind} ${subject}`));
  return rollup(
    rows,
    (same) => same.length,
    (row) => row,
  );
}

/** Share of the known time; null where nothing is known. */
function occupiedShare(bay: Subject, book: ReferenceBook, period: Interval): number | null {
  const { offMs, onMs } = durations(restrict(book(bay.id, []).timeline, period.from, period.to));
  return offMs + onMs === 0 ? null : onMs / (offMs + onMs);
}
