import { DuckDBInstance } from "@duckdb/node-api";

/** What to compute of two distance signals and a contact in files with the columns stamp, channel, reading. */
export interface Question {
  /** Path or glob of the CSV files. */
  readonly files: string;
  readonly overhead: string;
  readonly wall: string;
  readonly contact: string;
  /** Bands in the unit of the files, both ends included. */
  readonly overheadBand: readonly [number, number];
  readonly wallBand: readonly [number, number];
  /** The two meters' longest usual time between readings; the contact is never silent. */
  readonly expectMs: number;
  readonly from: number;
  readonly to: number;
  /** The rule: overhead turned occupied within so long, contact open, then quiet for so long. */
  readonly withinMs: number;
  readonly bridgeMs: number;
  readonly restMs: number;
}

/** The answers, times in milliseconds. */
export interface Figures {
  /** Time in each pair of states of overhead and wall (0 off, 1 on, 2 unknown): index overhead * 3 + wall. */
  readonly together: readonly number[];
  /** Epoch milliseconds. */
  readonly firings: readonly number[];
  /** Readings of each of the three channels, repeats once, unreadable ones not at all. */
  readonly readings: readonly number[];
}

/** A gap of more than this many times the longest usual time is a silence (the project's own factor, written out again). */
const SILENCE = 2.5;

/**
 * The same figures as an audit works out, by a database that shares no line with it: its own CSV reader, its own clock
 * arithmetic, and the definitions of the docs written as SQL. Only settling and slack, which need a memory, are left out.
 */
export async function duckdbFigures(question: Question): Promise<Figures> {
  const instance = await DuckDBInstance.create(":memory:", { threads: "2" });
  const connection = await instance.connect();
  const rows = async (sql: string): Promise<number[][]> => (await connection.runAndReadAll(sql)).getRows().map((row) => row.map(Number));
  const { from, to } = question;
  const text = (value: string): string => `'${value.replaceAll("'", "''")}'`;
  const limit = SILENCE * question.expectMs;

  await connection.run("SET TimeZone = 'UTC'");
  // What each readable row says: 0, 1. Every repeat once.
  await connection.run(`
    CREATE TABLE said AS
    SELECT DISTINCT who, instant, state FROM (
      SELECT CASE channel WHEN ${text(question.overhead)} THEN 'o' WHEN ${text(question.wall)} THEN 'w' ELSE 'c' END AS who,
             epoch_ms(TRY_CAST(stamp AS TIMESTAMPTZ)) AS instant,
             TRY_CAST(reading AS DOUBLE) AS metres,
             CASE channel
               WHEN ${text(question.overhead)} THEN CASE WHEN metres <= 0 THEN NULL ELSE (metres BETWEEN ${question.overheadBand[0]} AND ${question.overheadBand[1]})::INT END
               WHEN ${text(question.wall)} THEN CASE WHEN metres <= 0 THEN NULL ELSE (metres BETWEEN ${question.wallBand[0]} AND ${question.wallBand[1]})::INT END
               ELSE CASE reading WHEN 'open' THEN 1 WHEN 'closed' THEN 0 END
             END AS state
      FROM read_csv(${text(question.files)}, columns = {'stamp': 'VARCHAR', 'channel': 'VARCHAR', 'reading': 'VARCHAR'}, header = true, null_padding = true, ignore_errors = true)
      WHERE channel IN (${[question.overhead, question.wall, question.contact].map(text).join(", ")})
    ) WHERE instant IS NOT NULL AND state IS NOT NULL`);
  const readings = (await rows("SELECT count(*) FILTER (who = 'o'), count(*) FILTER (who = 'w'), count(*) FILTER (who = 'c') FROM said"))[0]!;

  // Each reading stands until the next; a longer gap than the limit is a silence, for meters only.
  await connection.run(`CREATE TABLE spans AS SELECT who, instant, state, lead(instant, 1, ${to}) OVER (PARTITION BY who ORDER BY instant) AS next FROM said WHERE instant < ${to}`);
  // Told afterwards: unknown from the last reading on. Told live: unknown once the silence is noticed.
  await connection.run(`CREATE VIEW told AS SELECT who, instant, CASE WHEN who <> 'c' AND next - instant > ${limit} THEN 2 ELSE state END AS state FROM spans`);
  await connection.run(`
    CREATE TABLE live AS
    SELECT who, instant, state FROM spans
    UNION ALL SELECT who, instant + ${limit}, 2 FROM spans WHERE who <> 'c' AND next - instant > ${limit}`);

  const together = new Array<number>(9).fill(0);
  for (const [overhead, wall, ms] of await rows(`
    WITH edges AS (SELECT DISTINCT greatest(instant, ${from}) AS instant FROM told WHERE who IN ('o', 'w') UNION SELECT ${from}),
         pieces AS (SELECT instant, lead(instant, 1, ${to}) OVER (ORDER BY instant) AS next FROM edges)
    SELECT coalesce(o.state, 2), coalesce(w.state, 2), sum(pieces.next - pieces.instant)
    FROM pieces
    ASOF LEFT JOIN (SELECT * FROM told WHERE who = 'o') o ON pieces.instant >= o.instant
    ASOF LEFT JOIN (SELECT * FROM told WHERE who = 'w') w ON pieces.instant >= w.instant
    GROUP BY ALL`)) together[overhead! * 3 + wall!]! += ms!;

  const firings = (await rows(`
    WITH RECURSIVE
      steps AS (SELECT instant, state FROM (SELECT *, lag(state, 1, 2) OVER (ORDER BY instant) AS before FROM live WHERE who = 'o') WHERE state <> before),
      turns AS (
        SELECT instant FROM (SELECT *, lag(state, 1, 2) OVER w AS before, lag(state, 2, 2) OVER w AS earlier, lag(instant, 1) OVER w AS since FROM steps WINDOW w AS (ORDER BY instant))
        WHERE state = 1 AND instant > ${from} AND instant < ${to} AND (before = 0 OR (before = 2 AND earlier = 0 AND instant - since <= ${question.bridgeMs}))),
      edges AS (SELECT instant FROM turns UNION SELECT instant + ${question.withinMs} FROM turns UNION SELECT instant FROM live WHERE who = 'c'),
      held AS (
        SELECT edges.instant, coalesce(edges.instant - turns.instant < ${question.withinMs} AND c.state = 1, false) AS holds
        FROM edges ASOF LEFT JOIN turns ON edges.instant >= turns.instant ASOF LEFT JOIN (SELECT * FROM live WHERE who = 'c') c ON edges.instant >= c.instant),
      rises AS (SELECT instant FROM (SELECT *, lag(holds, 1, false) OVER (ORDER BY instant) AS held FROM held) WHERE holds AND NOT held AND instant > ${from} AND instant < ${to}),
      fired AS (
        SELECT min(instant) AS instant FROM rises
        UNION ALL
        SELECT (SELECT min(rises.instant) FROM rises WHERE rises.instant >= fired.instant + ${question.restMs}) FROM fired WHERE fired.instant IS NOT NULL)
    SELECT instant FROM fired WHERE instant IS NOT NULL ORDER BY instant`)).map(([at]) => at!);

  connection.closeSync();
  instance.closeSync();
  return { together, firings, readings };
}
