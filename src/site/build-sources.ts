import { pathText } from "./check-shape.js";
import { closestName } from "./closest-name.js";
import { expectedNames, quoted, suggestion } from "./complaints.js";
import type { SiteDraft } from "./draft.js";
import type { WrittenSource } from "./shape.js";
import type { Source, SourceLayout } from "./site.js";
import { allNamedWritings, patternProblem, startInstant, timeWriting } from "./time-pattern.js";
import { isTimeZone } from "../ground/time-zone.js";
import { closestTimeZone } from "./time-zone.js";
import type { Path } from "./yaml-text.js";

/** The sources of a site. Complains of wrong layouts, unknown zones and unreadable patterns. */
export function buildSources(draft: SiteDraft): Source[] {
  return Object.entries(draft.site.sources).map(([id, written]) => buildSource(id, written, draft));
}

function buildSource(id: string, written: WrittenSource, draft: SiteDraft): Source {
  const path = ["sources", id];
  const otherNames = otherNamesOf(written);
  const layout = buildLayout(id, written, draft);
  checkTime(written, path, draft);
  if (written.time.zone !== undefined) checkTimeZone(written.time.zone, [...path, "time", "zone"], draft);
  const lost = written.lost ?? [];
  // An empty cell says nothing, unless the site file says that it means more.
  const missing = written.missing ?? (lost.includes("") ? [] : [""]);
  const both = lost.find((word) => missing.includes(word));
  if (both !== undefined) {
    draft.complaints.atKey([...path, "lost"], {
      code: "site-reference",
      what: `The cell ${quoted(both)} is both missing and lost in ${pathText(path)}`,
      mend: "keep it in one of the two lists",
    });
  }
  return {
    id,
    files: written.files,
    timeColumn: written.time.column[0] ?? "",
    ...(written.time.and === undefined ? {} : { timeOfDayColumn: written.time.and[0] ?? "" }),
    written: timeWriting(written.time.written, startOf(written, path, draft)),
    zone: written.time.zone ?? draft.site.timezone,
    skippedHour: written.time.skipped_hour ?? "set-aside",
    delimiter: delimiterOf(written, path, draft),
    decimal: written.decimal === "comma" ? "," : ".",
    encoding: written.encoding ?? null,
    layout,
    ...(otherNames.size === 0 ? {} : { otherNames }),
    missing,
    lost,
    ...(written.leave_out === undefined ? {} : { leaveOut: written.leave_out }),
    ...(written.unpacks_to === undefined ? {} : { mostUnpackedBytes: written.unpacks_to * 1_000_000_000 }),
    clockCorrectionMs: written.clock_correction ?? 0,
  };
}

/** What else columns are called, by the first of their names. */
function otherNamesOf({ time, signal, value, each }: WrittenSource): Map<string, readonly string[]> {
  const columns = Object.values(each ?? {}).filter((column) => Array.isArray(column));
  const lists = [time.column, time.and ?? [], signal ?? [], value ?? [], ...columns];
  return new Map(lists.flatMap(([first, ...others]) => (first === undefined || others.length === 0 ? [] : [[first, others] as const])));
}

/** Complains of a time zone that this machine does not know. */
export function checkTimeZone(zone: string, path: Path, draft: SiteDraft): void {
  if (isTimeZone(zone)) return;
  const close = closestTimeZone(zone);
  draft.complaints.atValue(path, {
    code: "time-zone-unknown",
    what: `The time zone ${quoted(zone)} is not known`,
    expected: "an IANA time zone such as Europe/London",
    mend: close === null ? null : `did you mean ${quoted(close)}?`,
  });
}

/** When the counts of a device begin; 0 where stamps are no counts, or it cannot be told. Complains where they need it, or do not. */
function startOf({ time }: WrittenSource, path: Path, { site, complaints }: SiteDraft): number {
  const writing = timeWriting(time.written);
  const counts = typeof writing !== "string" && "counts" in writing;
  if (time.start === undefined) {
    if (counts) {
      complaints.atKey([...path, "time"], {
        code: "site-shape",
        what: `${quoted("start")} is missing in ${pathText([...path, "time"])}`,
        expected: `the instant from which ${writing.counts} counts, such as 2026-10-01T06:00:00Z`,
      });
    }
    return 0;
  }
  if (!counts) {
    complaints.atKey([...path, "time", "start"], {
      code: "site-shape",
      what: `${quoted("start")} in ${pathText([...path, "time"])} has no use`,
      expected: "it beside `written: ms-since` or `written: s-since` only",
    });
    return 0;
  }
  const zone = time.zone ?? site.timezone;
  const instant = isTimeZone(zone) ? startInstant(time.start, zone) : 0;
  if (!Number.isNaN(instant)) return instant;
  complaints.atValue([...path, "time", "start"], {
    code: "site-shape",
    what: "The start of the count is not one instant",
    expected: "an instant in ISO 8601 such as 2026-10-01T06:00:00Z, or a local time that the clocks show once",
    found: quoted(time.start),
  });
  return 0;
}

function checkTime(written: WrittenSource, path: Path, draft: SiteDraft): void {
  const writing = timeWriting(written.time.written);
  if (typeof writing === "string" || "counts" in writing) return;
  const wrong = patternProblem(writing.pattern);
  if (wrong === null) return;
  const close = closestName(writing.pattern, allNamedWritings);
  draft.complaints.atValue([...path, "time", "written"], {
    code: "site-shape",
    what:
      close === null
        ? `The time pattern ${quoted(writing.pattern)} ${wrong}`
        : `${quoted(writing.pattern)} is not a way to write time stamps`,
    expected: "iso, epoch-s, epoch-ms, ms-since, s-since, or a pattern such as dd/MM/yyyy HH:mm:ss",
    mend: close === null ? null : `did you mean ${quoted(close)}?`,
  });
}

function delimiterOf(written: WrittenSource, path: Path, draft: SiteDraft): string {
  const given = written.delimiter ?? ",";
  const delimiter = given === "tab" ? "\t" : given;
  if (!/^[^"\r\n]$/u.test(delimiter)) {
    draft.complaints.atValue([...path, "delimiter"], {
      code: "site-shape",
      what: `The delimiter of ${pathText(path)} cannot be used`,
      expected: "one character, not a quote; or tab",
      found: quoted(given),
    });
  }
  return delimiter;
}

function buildLayout(id: string, written: WrittenSource, draft: SiteDraft): SourceLayout {
  const path = ["sources", id];
  const { complaints } = draft;
  const longKeys = (["signal", "value", "latitude", "longitude"] as const).filter((key) => written[key] !== undefined);
  const expected = "either `signal` and `value` (a reading a row) or `each` (a column a signal)";
  if (written.each !== undefined) {
    const extra = longKeys[0];
    if (extra !== undefined) {
      complaints.atKey([...path, extra], {
        code: "site-shape",
        what: `${pathText(path)} has both ${quoted("each")} and ${quoted(extra)}`,
        expected,
      });
    }
    return wideLayout(id, written.each, draft);
  }
  if (written.signal === undefined) {
    complaints.atKey(path, { code: "site-shape", what: `${pathText(path)} does not say which columns its readings are in`, expected });
  } else if (written.value === undefined && written.latitude === undefined && written.longitude === undefined) {
    complaints.atKey(path, {
      code: "site-shape",
      what: `${quoted("value")} is missing in ${pathText(path)}`,
      expected: "the column with the value; for positions `latitude` and `longitude`",
    });
  }
  if ((written.latitude === undefined) !== (written.longitude === undefined)) {
    const [given, lacking] = written.latitude === undefined ? ["longitude", "latitude"] : ["latitude", "longitude"];
    complaints.atKey([...path, given], {
      code: "site-shape",
      what: `${quoted(lacking)} is missing in ${pathText(path)}`,
      expected: "a column each for latitude and longitude",
    });
  }
  return {
    form: "long",
    signalColumn: written.signal?.[0] ?? "",
    valueColumn: written.value?.[0] ?? null,
    latitudeColumn: written.latitude ?? null,
    longitudeColumn: written.longitude ?? null,
  };
}

function wideLayout(id: string, each: NonNullable<WrittenSource["each"]>, draft: SiteDraft): SourceLayout {
  const { complaints, declared, site } = draft;
  const path = ["sources", id, "each"];
  if (Object.keys(each).length === 0) {
    complaints.atKey(path, { code: "site-shape", what: `${pathText(path)} is empty`, expected: "at least one signal with its column" });
  }
  const columns = new Map<string, { readonly value: string } | { readonly latitude: string; readonly longitude: string }>();
  for (const [signal, column] of Object.entries(each)) {
    columns.set(signal, Array.isArray(column) ? { value: column[0] ?? "" } : column);
    if (!declared.signals.has(signal)) {
      complaints.atKey([...path, signal], {
        code: "site-reference",
        what: `${quoted(signal)} is not a signal`,
        expected: expectedNames("a name under signals:", declared.signals.keys()),
        mend: suggestion(signal, declared.signals.keys()),
      });
    } else if (site.signals[signal] !== undefined && !site.signals[signal].source.includes(id)) {
      complaints.atKey([...path, signal], {
        code: "site-reference",
        what:
          `The signal ${quoted(signal)} has a column in the source ${quoted(id)}, ` +
          `but its own source is ${quoted(site.signals[signal].source.join(", "))}`,
        mend: `give the signal "source: ${id}", or take the column out`,
      });
    }
  }
  return { form: "wide", columns };
}
