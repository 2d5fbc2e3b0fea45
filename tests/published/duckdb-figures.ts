import { DuckDBInstance } from "@duckdb/node-api";

/** What to compute of every bay in files with the columns stamp, channel, reading; channels are over-NN, wall-NN, door-NN and tag-NN. */
export interface Question {
  /** Path or glob of the CSV files. */
  readonly files: string;
  /** Bands in the unit of the files, both ends included. */
  readonly overheadBand: readonly [number, number];
  readonly wallBand: readonly [number, number];
  /** The meters' longest usual time between readings; contact and tag are never silent. */
  readonly expectMs: number;
  readonly from: number;
  readonly to: number;
  /** The rule of each bay: overhead turned occupied within so long, contact open, then quiet for so long. */
  readonly withinMs: number;
  readonly bridgeMs: number;
  readonly restMs: number;
}

/** The answers for one bay, times in milliseconds. */
export interface Figures {
  readonly bay: string;
  /** Time in each pair of states of overhead and wall (0 off, 1 on, 2 unknown): index overhead * 3 + wall. */
  readonly together: readonly number[];
  /** Time in each state of the tag: away, here, unknown. */
  readonly tag: readonly number[];
  /** Epoch milliseconds. */
  readonly firings: readonly number[];
  /** Readings of overhead, wall, contact and tag, repeats once, unreadable ones not at all. */
  readonly readings: readonly number[];
}

/** A gap of more than this many times the longest usual time is a silence (the project's own factor, written out again). */
const SILENCE = 2.5;

/**
 * The same figures as an audit works out of all signals, by a database that shares no line with it: its own CSV reader, its own clock
 * arithmetic, and the definitions of the docs written as SQL. Only settling and slack, which need a memory, are left out.
 */
export async function duckdbFigures(question: Question): Promise<Figures[]> {
  const instance = await DuckDBInstance.create(":memory:", { threads: "2" });
  const connection = await instance.connect();
  const rows = async (sql: string): Promise<unknown[][]> => (await connection.runAndReadAll(sql)).getRows();
  const { from, to } = question;
  const limit = SILENCE * question.expectMs;

  await connection.run("SET TimeZone = 'UTC'");
  // What each readable row says: 0, 1. Every repeat once.
  const inBand = ([near, far]: readonly [number, number]): string => `CASE WHEN metres <= 0 THEN NULL ELSE (metres BETWEEN ${near} AND ${far})::INT END`;
  await connection.run(`
    CREATE TABLE said AS
    SELECT DISTINCT bay, who, instant, state FROM (
      SELECT channel[6:] AS bay, channel[1] AS who, epoch_ms(TRY_CAST(stamp AS TIMESTAMPTZ)) AS instant, TRY_CAST(reading AS DOUBLE) AS metres,
             CASE who
               WHEN 'o' THEN ${inBand(question.overheadBand)}
               WHEN 'w' THEN ${inBand(question.wallBand)}
               WHEN 'd' THEN CASE reading WHEN 'open' THEN 1 WHEN 'closed' THEN 0 END
               ELSE CASE reading WHEN 'in' THEN 1 WHEN 'out' THEN 0 END
             END AS state
      FROM (SELECT stamp, replace(channel, 'tag-', 'tags-') AS channel, reading
            FROM read_csv('${question.files.replaceAll("'", "''")}', columns = {'stamp': 'VARCHAR', 'channel': 'VARCHAR', 'reading': 'VARCHAR'}, header = true, null_padding = true, ignore_errors = true))
    ) WHERE instant IS NOT NULL AND state IS NOT NULL`);

  // Each reading stands until the next; a longer gap than the limit is a silence, for meters only.
  await connection.run(`
    CREATE TABLE spans AS
    SELECT bay, who, instant, state, lead(instant, 1, ${to}) OVER (PARTITION BY bay, who ORDER BY instant) AS next, lag(state) OVER (PARTITION BY bay, who ORDER BY instant) AS before
    FROM said WHERE instant < ${to}`);
  // Told afterwards: unknown from the last reading on. Told live: unknown once the silence is noticed. Only where something may change.
  const silent = `who IN ('o', 'w') AND next - instant > ${limit}`;
  await connection.run(`
    CREATE TABLE told AS
    SELECT bay, who, instant, state FROM (
      SELECT *, lag(state) OVER (PARTITION BY bay, who ORDER BY instant) AS earlier FROM (SELECT bay, who, instant, CASE WHEN ${silent} THEN 2 ELSE state END AS state FROM spans))
    WHERE state IS DISTINCT FROM earlier`);
  await connection.run(`
    CREATE TABLE live AS
    SELECT bay, who, instant, state FROM (
      SELECT *, lag(state) OVER (PARTITION BY bay, who ORDER BY instant) AS earlier FROM (
        SELECT bay, who, instant, state FROM spans UNION ALL SELECT bay, who, instant + ${limit}, 2 FROM spans WHERE ${silent}))
    WHERE state IS DISTINCT FROM earlier`);

  const found = new Map<string, { together: number[]; tag: number[]; firings: number[]; readings: readonly number[] }>();
  for (const [bay, ...counts] of await rows("SELECT bay, count(*) FILTER (who = 'o'), count(*) FILTER (who = 'w'), count(*) FILTER (who = 'd'), count(*) FILTER (who = 't') FROM said GROUP BY bay ORDER BY bay")) {
    found.set(String(bay), { together: new Array<number>(9).fill(0), tag: new Array<number>(3).fill(0), firings: [], readings: counts.map(Number) });
  }
  for (const [bay, overhead, wall, ms] of await rows(`
    WITH edges AS (SELECT DISTINCT bay, greatest(instant, ${from}) AS instant FROM told WHERE who IN ('o', 'w') UNION SELECT DISTINCT bay, ${from} FROM told),
         pieces AS (SELECT bay, instant, lead(instant, 1, ${to}) OVER (PARTITION BY bay ORDER BY instant) AS next FROM edges)
    SELECT pieces.bay, coalesce(o.state, 2), coalesce(w.state, 2), sum(pieces.next - pieces.instant)
    FROM pieces
    ASOF LEFT JOIN (SELECT * FROM told WHERE who = 'o') o ON pieces.bay = o.bay AND pieces.instant >= o.instant
    ASOF LEFT JOIN (SELECT * FROM told WHERE who = 'w') w ON pieces.bay = w.bay AND pieces.instant >= w.instant
    GROUP BY ALL`)) found.get(String(bay))!.together[Number(overhead) * 3 + Number(wall)]! += Number(ms);

  for (const [bay, state, ms] of await rows(`
    SELECT bay, state, sum(greatest(next, ${from}) - greatest(instant, ${from})) FROM (
      SELECT bay, instant, state, lead(instant, 1, ${to}) OVER (PARTITION BY bay ORDER BY instant) AS next FROM (
        SELECT bay, instant, state FROM told WHERE who = 't' UNION ALL SELECT DISTINCT bay, least(${from}, (SELECT min(instant) FROM told)) - 1, 2 FROM told))
    GROUP BY ALL`)) found.get(String(bay))!.tag[Number(state)]! += Number(ms);

  for (const [bay, at] of await rows(`
    WITH RECURSIVE
      steps AS (SELECT bay, instant, state FROM (SELECT *, lag(state, 1, 2) OVER (PARTITION BY bay ORDER BY instant) AS before FROM live WHERE who = 'o') WHERE state <> before),
      turns AS (
        SELECT bay, instant FROM (SELECT *, lag(state, 1, 2) OVER w AS before, lag(state, 2, 2) OVER w AS earlier, lag(instant, 1) OVER w AS since FROM steps WINDOW w AS (PARTITION BY bay ORDER BY instant))
        WHERE state = 1 AND instant > ${from} AND instant < ${to} AND (before = 0 OR (before = 2 AND earlier = 0 AND instant - since <= ${question.bridgeMs}))),
      edges AS (SELECT bay, instant FROM turns UNION SELECT bay, instant + ${question.withinMs} FROM turns UNION SELECT bay, instant FROM live WHERE who = 'd'),
      held AS (
        SELECT edges.bay, edges.instant, coalesce(edges.instant - turns.instant < ${question.withinMs} AND c.state = 1, false) AS holds
        FROM edges ASOF LEFT JOIN turns ON edges.bay = turns.bay AND edges.instant >= turns.instant
        ASOF LEFT JOIN (SELECT * FROM live WHERE who = 'd') c ON edges.bay = c.bay AND edges.instant >= c.instant),
      rises AS (SELECT bay, instant FROM (SELECT *, lag(holds, 1, false) OVER (PARTITION BY bay ORDER BY instant) AS held FROM held) WHERE holds AND NOT held AND instant > ${from} AND instant < ${to}),
      fired AS (
        SELECT bay, min(instant) AS instant FROM rises GROUP BY bay
        UNION ALL
        SELECT fired.bay, min(rises.instant) FROM fired JOIN rises ON rises.bay = fired.bay AND rises.instant >= fired.instant + ${question.restMs} GROUP BY fired.bay)
    SELECT bay, instant FROM fired ORDER BY bay, instant`)) found.get(String(bay))!.firings.push(Number(at));

  connection.closeSync();
  instance.closeSync();
  return [...found].map(([bay, one]) => ({ bay, ...one }));
}
