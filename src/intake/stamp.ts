import type { CountWriting, Source } from "../site/site.js";
import { emptyIsoStamp, mayFollowLeapSecond, readIsoStamp } from "./iso-stamp.js";
import { localInstant } from "./local-instant.js";
import { makePatternReader } from "./pattern-stamp.js";
import { HOUR_MS } from "../ground/units.js";

/** A later epoch than this (year 2200) is milliseconds read as seconds, or no time at all. */
const LAST_EPOCH_MS = Date.UTC(2200, 0);
/**
 * Rows of several devices come a little out of order: inside a repeated hour, only a step back of at least this much
 * counts as the clock change. Common practice, no source.
 */
const JITTER_MS = 60_000;
/** A counter runs over where the last row before and the first after are this close to it. Our own choice. */
const RUN_OVER_MS = 10 * 60_000;

/** How the stamp was read. */
export type StampNote = "plain" | "repeated" | "shifted" | "skipped" | "unreadable" | "restarted";

/** Reads the stamps of one file in file order. `note` is about the stamp read last. */
export interface StampReader {
  /** Epoch milliseconds UTC; NaN when the note is `skipped`, `unreadable` or `restarted`. */
  readonly read: (text: string) => number;
  readonly note: StampNote;
}

/**
 * Makes a reader for the stamps of one file, which must be read in file order: a local time that occurs twice is
 * placed by it. Files that run backwards (newest first) are recognised by most of their steps going back; in them the
 * second pass comes first. Leap seconds (:60) are read as the start of the following second, where one can be.
 * Throws `RangeError` for a zone the machine does not know.
 */
export function makeStampReader(source: Pick<Source, "written" | "zone" | "skippedHour">): StampReader {
  const { written } = source;
  const reader = { note: "plain" as StampNote, read: (text: string): number => readTrimmed(text) };
  const placing = (zone: string): ((wallMs: number) => number) => makeLocalPlacing(zone, source.skippedHour, (note) => (reader.note = note));
  const place = placing(source.zone);
  /** Stamps that name a zone of their own: each zone's by their order in the file. */
  const placeByZone = new Map<string, (wallMs: number) => number>();
  const parse = parseOf();
  return reader;

  function readTrimmed(text: string): number {
    reader.note = "plain";
    let instant = parse(text);
    // Spaces around a stamp are rare: looked for only when it does not read without.
    if (isUnreadable(instant) && text !== text.trim()) instant = parse(text.trim());
    if (isUnreadable(instant)) reader.note = "unreadable";
    return instant;
  }

  function parseOf(): (text: string) => number {
    if (written === "iso") return isoParse();
    if (written === "epoch-s" || written === "epoch-ms") return epochParse(written === "epoch-s" ? 1000 : 1);
    return "counts" in written ? countParse(written, () => (reader.note = "restarted")) : patternParse(written.pattern);
  }

  function isUnreadable(instant: number): boolean {
    return Number.isNaN(instant) && reader.note === "plain";
  }

  function isoParse(): (text: string) => number {
    const stamp = emptyIsoStamp();
    return (text) => {
      if (!readIsoStamp(text, stamp)) return Number.NaN;
      const instant = Number.isNaN(stamp.offsetMs) ? placeIn(stamp.zone)(stamp.wallMs) : stamp.wallMs - stamp.offsetMs;
      return stamp.leapSecond && !Number.isNaN(instant) && !mayFollowLeapSecond(instant) ? Number.NaN : instant;
    };
  }

  function placeIn(zone: string | null): (wallMs: number) => number {
    if (zone === null) return place;
    const known = placeByZone.get(zone) ?? placing(zone);
    placeByZone.set(zone, known);
    return known;
  }

  function patternParse(pattern: string): (text: string) => number {
    const { givesInstants, read } = makePatternReader(pattern);
    if (givesInstants) return read;
    return (text) => {
      const wallMs = read(text);
      return Number.isNaN(wallMs) ? wallMs : place(wallMs);
    };
  }
}

/**
 * `; it looks like epoch-ms`, or nothing: a hint for a stamp that is not written as its source says, so that two ways of
 * writing in one column show. Only the ways that explain themselves are recognised; a pattern is never guessed.
 */
export function stampLook(text: string, source: Pick<Source, "written" | "zone" | "skippedHour">): string {
  const trimmed = text.trim();
  const written = /^\d{9,10}(\.\d+)?$/.test(trimmed) ? "epoch-s" : /^\d{12,13}$/.test(trimmed) ? "epoch-ms" : /^\d{4}-/.test(trimmed) ? "iso" : null;
  if (written === null || written === source.written) return "";
  return Number.isNaN(makeStampReader({ ...source, written }).read(trimmed)) ? "" : `; it looks like ${written}`;
}

/** Plain decimal digits, with a fraction where the unit is seconds; rounded to the millisecond. */
function epochParse(unitMs: number): (text: string) => number {
  return (text) => {
    for (let i = 0; i < text.length; i++) {
      const code = text.charCodeAt(i);
      if ((code < 0x30 || code > 0x39) && (code !== 0x2e || i === 0)) return Number.NaN;
    }
    // Number("") is 0; Number("1.2.3") is NaN.
    const instant = text === "" ? Number.NaN : Math.round(Number(text) * unitMs);
    return instant <= LAST_EPOCH_MS ? instant : Number.NaN;
  };
}

/** Where counters of 32 bits, as small devices have, begin anew: after 49.7 days in milliseconds. */
const COUNTER_END = 2 ** 32;

/**
 * Counts from the start of a device. A counter that runs over goes on; one that goes back otherwise was started anew, nobody knows when: from
 * there on nothing in the file can be read.
 */
function countParse({ unitMs, startMs }: CountWriting, tellRestart: () => void): (text: string) => number {
  const read = epochParse(unitMs);
  let [highest, over, isRestarted] = [-Infinity, 0, false];
  return (text) => {
    const counted = read(text);
    if (Number.isNaN(counted)) return counted;
    let ms = counted + over;
    // A late row from before the counter ran over.
    if (over > 0 && ms - highest > COUNTER_END / 2) ms -= COUNTER_END;
    if (unitMs === 1 && highest - ms > COUNTER_END - 2 * RUN_OVER_MS) {
      over += COUNTER_END;
      ms += COUNTER_END;
    }
    isRestarted ||= ms < highest - JITTER_MS;
    if (isRestarted) {
      tellRestart();
      return Number.NaN;
    }
    highest = Math.max(highest, ms);
    return startMs + ms;
  };
}

/** Places wall-clock milliseconds given in file order; NaN for a skipped time that is to be set aside. */
function makeLocalPlacing(zone: string, skippedHour: Source["skippedHour"], tell: (note: StampNote) => void): (wallMs: number) => number {
  /** Wall-clock hour → offset in force all through it; NaN where the clocks change within. */
  const offsets = new Map<number, number>();
  let lastHour = Number.NaN;
  let lastOffset = Number.NaN;
  let lastWall = Number.NaN;
  let stepsOn = 0;
  let stepsBack = 0;
  const passOf = makePassTracking();
  localInstant(0, zone);

  return (wallMs) => {
    if (wallMs > lastWall) stepsOn++;
    else if (wallMs < lastWall) stepsBack++;
    lastWall = wallMs;
    const hour = Math.floor(wallMs / HOUR_MS);
    if (hour !== lastHour) {
      lastHour = hour;
      lastOffset = offsets.get(hour) ?? offsetOfHour(hour);
      offsets.set(hour, lastOffset);
    }
    if (!Number.isNaN(lastOffset)) {
      passOf.leave();
      return wallMs - lastOffset;
    }
    const first = localInstant(wallMs, zone);
    if (first.kind === "first") {
      tell("repeated");
      return passOf.enter(wallMs, stepsBack > stepsOn) === "first" ? first.instant : localInstant(wallMs, zone, "second").instant;
    }
    passOf.leave();
    if (first.kind === "once") return first.instant;
    tell(skippedHour === "shift" ? "shifted" : "skipped");
    return skippedHour === "shift" ? first.instant : Number.NaN;
  };

  function offsetOfHour(hour: number): number {
    const start = hour * HOUR_MS;
    const end = start + HOUR_MS - 1;
    const [atStart, atEnd] = [localInstant(start, zone), localInstant(end, zone)];
    const steady = atStart.kind === "once" && atEnd.kind === "once" && start - atStart.instant === end - atEnd.instant;
    return steady ? start - atStart.instant : Number.NaN;
  }
}

/** Distinguishes the first pass of a repeated hour from the second, by file order. */
function makePassTracking(): { enter(wallMs: number, runsBackwards: boolean): "first" | "second"; leave(): void } {
  let inside = false;
  let backwards = false;
  let pass: "first" | "second" = "first";
  /** The furthest local time of this pass, in the direction the file runs. */
  let furthest = 0;
  return {
    leave: () => (inside = false),
    enter(wallMs, runsBackwards) {
      // Two repeated hours with no row between them lie at least days apart.
      if (!inside || Math.abs(wallMs - furthest) > 3 * HOUR_MS) {
        inside = true;
        backwards = runsBackwards;
        pass = backwards ? "second" : "first";
        furthest = wallMs;
      }
      const ahead = backwards ? furthest - wallMs : wallMs - furthest;
      if (ahead <= -JITTER_MS && pass === (backwards ? "second" : "first")) {
        pass = backwards ? "first" : "second";
        furthest = wallMs;
      } else if (ahead > 0) {
        furthest = wallMs;
      }
      return pass;
    },
  };
}
