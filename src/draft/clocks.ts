import { HOUR_MS, MINUTE_MS } from "../ground/units.js";
import { makeStampReader } from "../intake/stamp.js";
import { timeWriting } from "../site/time-pattern.js";
import type { FoundSource } from "./found.js";
import { offsetMinutes } from "./time-writing.js";
import { clockBySpan, zonesFor, type OffsetSeen, type Span } from "./zone.js";

/** Whose clock a source without offsets shows: a zone to name, or the site's (null). */
export interface SourceClock {
  readonly zone: string | null;
  readonly evidence: string;
  readonly open: string | null;
}

/** The site's time zone and whose clock each source without offsets shows. */
export interface ClocksFound {
  /** Null when not known. */
  readonly zone: string | null;
  readonly evidence: string;
  readonly open: string | null;
  readonly sources: ReadonlyMap<FoundSource, SourceClock>;
}

const MINUTES_AN_HOUR = HOUR_MS / MINUTE_MS;

/** Finds them from the offsets that stamps carry, and from where exports begin and end. This computer's own zone is not used. */
export function findClocks(sources: readonly FoundSource[]): ClocksFound {
  const seen = sources.flatMap((source) => (source.written.startsWith("epoch-") || source.offsets === "none" ? [] : offsetsSeen(source)));
  const { zones, offsets, changed } = zonesFor(seen);
  const listed = offsets.map(offsetText).join(" and ");
  const zone = zones[0] ?? null;
  const several = zones.length > 1;
  const [evidence, open] =
    seen.length === 0
      ? ["no stamp carries an offset from UTC", "in which time zone is the site? No stamp tells"]
      : zone === null
        ? [`the stamps carry the offset ${listed}`, offsets.length === 1 && offsets[0] === 0 ? "in which time zone is the site? The stamps are in UTC, which does not tell" : "in which time zone is the site? No zone fits all offsets of the stamps"]
        : [`the stamps carry the offset ${listed}${changed ? ", with a clock change in the exports" : ""}`, several ? `in which time zone is the site? ${zones.length} have the clocks of these stamps, and ${zone} stands here for all; others: ${zones.slice(1, 8).join(", ")}${zones.length > 8 ? ", …" : ""}` : null];
  const utc = sources.filter(({ offsets: carried }) => carried === "all").map(instantSpan);
  const wall = spanOf(seen.map(({ instant, minutes }) => instant + minutes * MINUTE_MS));
  const instants = joined(utc);
  const bare = sources.filter((source) => source.offsets !== "all");
  return { zone, evidence, open, sources: new Map(bare.map((source) => [source, clockOf(instantSpan(source), wall, instants)])) };
}

function clockOf(bare: Span, wall: Span | null, instants: Span | null): SourceClock {
  const clock = wall === null || instants === null ? null : clockBySpan(bare, wall, instants);
  if (clock === "local") return { zone: null, evidence: "no offsets; the export begins and ends with the others when read as local time, not as UTC", open: null };
  if (clock === "UTC") return { zone: "UTC", evidence: "no offsets; the export begins and ends with the others when read as UTC, not as local time", open: null };
  return { zone: null, evidence: "no offsets", open: "whose clock wrote these stamps? They carry no offset from UTC: the site's time zone is taken; if it was another, add `zone`" };
}

function offsetsSeen(source: FoundSource): OffsetSeen[] {
  const reader = makeStampReader({ written: timeWriting(source.written), zone: "UTC", skippedHour: "shift" });
  return source.tables.flatMap(({ rows }) =>
    rows.flatMap(({ cells }) => {
      const text = cells[source.timeColumn]!;
      const minutes = offsetMinutes(text);
      const instant = reader.read(text);
      return minutes === null || Number.isNaN(instant) ? [] : [{ instant, minutes }];
    }),
  );
}

/** First and last stamp, those without an offset read as if the clock showed UTC. */
function instantSpan(source: FoundSource): Span {
  const reader = makeStampReader({ written: timeWriting(source.written), zone: "UTC", skippedHour: "shift" });
  return spanOf(source.tables.flatMap(({ rows }) => rows.map(({ cells }) => reader.read(cells[source.timeColumn]!)).filter((instant) => !Number.isNaN(instant)))) ?? { from: Number.NaN, to: Number.NaN };
}

function spanOf(instants: readonly number[]): Span | null {
  let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const instant of instants) {
    if (instant < from) from = instant;
    if (instant > to) to = instant;
  }
  return from <= to ? { from, to } : null;
}

function joined(spans: readonly Span[]): Span | null {
  return spanOf(spans.flatMap(({ from, to }) => (Number.isNaN(from) ? [] : [from, to])));
}

function offsetText(minutes: number): string {
  const away = Math.abs(minutes);
  return `${minutes < 0 ? "-" : "+"}${String(Math.floor(away / MINUTES_AN_HOUR)).padStart(2, "0")}:${String(away % MINUTES_AN_HOUR).padStart(2, "0")}`;
}
