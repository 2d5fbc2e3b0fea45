import { HOUR_MS, MINUTE_MS } from "../ground/units.js";
import { makeStampReader } from "../intake/stamp.js";
import { timeWriting } from "../site/time-pattern.js";
import { isTimeZone } from "../ground/time-zone.js";
import { cellAt } from "./cell.js";
import type { FoundSource } from "./found.js";
import { choicesOf, type Answers, type DraftQuestion } from "./questions.js";
import { offsetMinutes } from "./time-writing.js";
import { clockBySpan, zonesFor, type OffsetSeen, type Span, type ZonesFound } from "./zone.js";

/** Whose clock a source without offsets shows: a zone to name, or the site's (null). */
export interface SourceClock {
  readonly zone: string | null;
  readonly evidence: string;
  readonly open: DraftQuestion | null;
}

/** The site's time zone and whose clock each source without offsets shows. */
export interface ClocksFound {
  /** Null when not known. */
  readonly zone: string | null;
  readonly evidence: string;
  readonly open: DraftQuestion | null;
  readonly sources: ReadonlyMap<FoundSource, SourceClock>;
}

const MINUTES_AN_HOUR = HOUR_MS / MINUTE_MS;
/** The answer that a clock shows the site's own time. */
const SITE_CLOCK = "the site's";
const typedZone = { expected: "a time zone such as Europe/London", fits: isTimeZone };
/** More zones that fit are not listed. */
const MOST_ZONES_LISTED = 7;

/** Finds them from the offsets that stamps carry, and from where exports begin and end. This computer's own zone is not used. */
export function findClocks(sources: readonly FoundSource[], answers: Answers): ClocksFound {
  const seen = tellingOffsets(sources.map((source) => (source.written.startsWith("epoch-") || source.counts !== undefined || source.offsets === "none" ? [] : offsetsSeen(source))));
  // Counts whose start nobody has said yet lie nowhere.
  const utc = sources.filter(({ offsets: carried, counts }) => carried === "all" && counts?.question == null).map(instantSpan);
  const wall = spanOf(seen.map(({ instant, minutes }) => instant + minutes * MINUTE_MS));
  const instants = joined(utc);
  const bare = sources.filter((source) => source.offsets !== "all");
  return {
    ...zoneSaid(siteZone(zonesFor(seen)), answers.get("timezone")),
    sources: new Map(bare.map((source) => [source, clockSaid(clockOf(source, wall, instants), answers.get(`clock:${source.id}`))])),
  };
}

function zoneSaid(found: Omit<ClocksFound, "sources">, said: string | undefined): Omit<ClocksFound, "sources"> {
  return said === undefined ? found : { zone: said, evidence: `${found.evidence}; you said so`, open: null };
}

function clockSaid(found: SourceClock, said: string | undefined): SourceClock {
  return said === undefined ? found : { zone: said === SITE_CLOCK ? null : said, evidence: `${found.evidence}; you said so`, open: null };
}

/** Exports that are in UTC throughout say nothing of the site's clocks where others show these. */
function tellingOffsets(bySource: readonly (readonly OffsetSeen[])[]): OffsetSeen[] {
  const local = bySource.filter((seen) => seen.some(({ minutes }) => minutes !== 0));
  return (local.length > 0 ? local : bySource).flat();
}

/** The site's zone by the offsets of its stamps, and the question that they leave. */
function siteZone({ zones, offsets, changed }: ZonesFound): Omit<ClocksFound, "sources"> {
  const asks = (text: string, among: readonly string[], weight: DraftQuestion["weight"]): DraftQuestion => ({
    id: "timezone",
    text: `in which time zone is the site? ${text}`,
    choices: choicesOf(among.slice(0, MOST_ZONES_LISTED)),
    typed: typedZone,
    weight,
  });
  if (offsets.length === 0) return { zone: null, evidence: "no stamp carries an offset from UTC", open: asks("No stamp tells", [], "blocks") };
  const evidence = `the stamps carry the offset ${offsets.map(offsetText).join(" and ")}`;
  const [zone, ...others] = zones;
  if (zone === undefined) {
    const allUtc = offsets.length === 1 && offsets[0] === 0;
    const why = allUtc ? "The stamps are in UTC, which does not tell" : "No zone fits all offsets of the stamps";
    return { zone: null, evidence, open: asks(why, [], "blocks") };
  }
  const listed = `${others.slice(0, MOST_ZONES_LISTED).join(", ")}${others.length > MOST_ZONES_LISTED ? ", …" : ""}`;
  const choice = `${zones.length} have the clocks of these stamps, and ${zone} stands here for all; others: ${listed}`;
  return {
    zone,
    evidence: `${evidence}${changed ? ", with a clock change in the exports" : ""}`,
    open: others.length === 0 ? null : asks(choice, zones, "stands in"),
  };
}

function clockOf(source: FoundSource, wall: Span | null, instants: Span | null): SourceClock {
  const clock = wall === null || instants === null ? null : clockBySpan(instantSpan(source), wall, instants);
  if (clock === "local") {
    return {
      zone: null,
      evidence: "no offsets; the export begins and ends with the others when read as local time, not as UTC",
      open: null,
    };
  }
  if (clock === "UTC") {
    return {
      zone: "UTC",
      evidence: "no offsets; the export begins and ends with the others when read as UTC, not as local time",
      open: null,
    };
  }
  return {
    zone: null,
    evidence: "no offsets",
    open: {
      id: `clock:${source.id}`,
      text: `source ${source.id}: whose clock wrote these stamps? They carry no offset from UTC: the site's time zone is taken; if it was another, add \`zone\``,
      choices: [
        { answer: SITE_CLOCK, says: "One that shows the site's own time" },
        { answer: "UTC", says: "One that shows UTC" },
      ],
      typed: typedZone,
      weight: "stands in",
    },
  };
}

function offsetsSeen(source: FoundSource): OffsetSeen[] {
  const reader = makeStampReader({ written: timeWriting(source.written), zone: "UTC", skippedHour: "shift" });
  return source.tables.flatMap(({ rows }) =>
    rows.flatMap(({ cells }) => {
      const text = cellAt(cells, source.timeColumn);
      const minutes = offsetMinutes(text);
      const instant = reader.read(text);
      return minutes === null || Number.isNaN(instant) ? [] : [{ instant, minutes }];
    }),
  );
}

/** First and last stamp, those without an offset read as if the clock showed UTC. */
function instantSpan(source: FoundSource): Span {
  const reader = makeStampReader({ written: timeWriting(source.written), zone: "UTC", skippedHour: "shift" });
  const instants = source.tables.flatMap(({ rows }) => rows.map(({ cells }) => reader.read(cellAt(cells, source.timeColumn))));
  return spanOf(instants.filter((instant) => !Number.isNaN(instant))) ?? { from: Number.NaN, to: Number.NaN };
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
  const parts = [Math.floor(away / MINUTES_AN_HOUR), away % MINUTES_AN_HOUR].map((part) => String(part).padStart(2, "0"));
  return `${minutes < 0 ? "-" : "+"}${parts.join(":")}`;
}
