import { emptyRanges } from "./build-empty.js";
import { pathText } from "./check-shape.js";
import { quoted, type Complaints } from "./complaints.js";
import type { SiteDraft } from "./draft.js";
import { lengthMetres, type WrittenLength } from "./length.js";
import type { WrittenSignal } from "./shape.js";
import type { Band, DistanceUnit, Source, SubjectClass, ValueReading } from "./site.js";
import { stateWords } from "./state-words.js";
import type { Path } from "./yaml-text.js";

/** How a signal's cells are read, and where it turns on. */
export interface ReadingAndBand {
  readonly reading: ValueReading;
  readonly band: Band | null;
}

const wordKeys = ["open", "closed", "occupied", "empty", "here", "away"] as const;
const stirKeys = ["stirs", "still", "lasts"] as const;
const lengthKeys = ["unit", "present", "radius", "slack", "maximum"] as const;

/** Which of the keys that depend on the kind each kind takes; word keys depend on the subject. */
const keysOfKind: Readonly<Record<WrittenSignal["kind"], readonly string[]>> = {
  distance: ["unit", "present", "empty", "slack", "maximum"],
  position: ["unit", "radius", "slack"],
  contact: wordKeys,
  phone: wordKeys,
  flag: wordKeys,
  stir: stirKeys,
};

/** Null when something was wrong enough to complain about; the class is null where the subject is unknown. */
export function readingAndBand(
  id: string,
  written: WrittenSignal,
  subjectClass: SubjectClass | null,
  source: Source | null,
  draft: SiteDraft,
): ReadingAndBand | null {
  const path = ["signals", id];
  for (const key of [...wordKeys, ...stirKeys, ...lengthKeys]) {
    if (written[key] !== undefined && !keysOfKind[written.kind].includes(key)) {
      draft.complaints.atKey([...path, key], {
        code: "site-shape",
        what: `A ${written.kind} signal has no ${quoted(key)}, in ${pathText(path)}`,
        mend: "delete it, or change the kind",
      });
    }
  }
  checkColumns(written, path, source, draft);
  if (written.kind === "distance") return distance(written, path, draft.complaints);
  if (written.kind === "position") return position(written, path, draft);
  if (written.kind === "stir") return stir(written, path, source, draft.complaints);
  return subjectClass === null ? null : wordReading(written, subjectClass, path, source, draft.complaints);
}

/** A position needs two columns, everything else one. */
function checkColumns(written: WrittenSignal, path: Path, source: Source | null, draft: SiteDraft): void {
  if (source === null) return;
  const { layout } = source;
  const id = String(path[1]);
  const wantsTwo = written.kind === "position";
  const complain = (what: string) =>
    draft.complaints.atKey(path, {
      code: "site-reference",
      what,
      expected: wantsTwo ? "columns for latitude and longitude" : "a column for the value",
    });
  if (layout.form === "long") {
    if (wantsTwo && layout.latitudeColumn === null) {
      complain(`The position signal ${quoted(id)} needs a source with "latitude" and "longitude"`);
    }
    if (!wantsTwo && layout.valueColumn === null && layout.latitudeColumn !== null) {
      complain(`The ${written.kind} signal ${quoted(id)} needs a source with "value"`);
    }
    return;
  }
  const column = layout.columns.get(id);
  if (column !== undefined && wantsTwo !== "latitude" in column) {
    complain(`The source ${quoted(source.id)} gives the ${written.kind} signal ${quoted(id)} ${wantsTwo ? "one column" : "two columns"}`);
  }
}

function distance(written: WrittenSignal, path: Path, complaints: Complaints): ReadingAndBand | null {
  if (written.present === "unseen") return emptyOnly(written, path, complaints);
  const [near, far] = written.present ?? [];
  if (written.unit === undefined) {
    complaints.atKey(path, {
      code: "site-unit",
      what: `"unit" is missing in ${pathText(path)}`,
      expected: "the unit of the distances in the export: m, cm, mm, ft or in",
    });
  }
  if (near === undefined || far === undefined) {
    complaints.atKey(path, {
      code: "site-band",
      what: `"present" is missing in ${pathText(path)}`,
      expected: "[near, far], the band of distances in which a vehicle is present",
    });
  }
  if (written.unit === undefined || near === undefined || far === undefined) return null;
  const metres = (length: WrittenLength | undefined) => (length === undefined ? null : lengthMetres(length, written.unit ?? null));
  const nearMetres = metres(near) ?? 0;
  const farMetres = metres(far) ?? 0;
  const maximumMetres = metres(written.maximum);
  if (nearMetres < 0) {
    complaints.atValue([...path, "present", 0], {
      code: "site-band",
      what: `The band of ${pathText(path)} starts below zero`,
      expected: "zero or more",
      found: lengthText(near),
    });
  }
  if (nearMetres >= farMetres) {
    complaints.atValue([...path, "present"], {
      code: "site-band",
      what: `The band of ${pathText(path)} is empty`,
      expected: "[near, far] with near less than far",
      found: `[${lengthText(near)}, ${lengthText(far)}]`,
    });
  }
  if (maximumMetres !== null && maximumMetres <= farMetres) {
    complaints.atValue([...path, "maximum"], {
      code: "site-band",
      what: `The maximum of ${pathText(path)} cuts off its band`,
      expected: `more than the far end, ${lengthText(far)}`,
      found: lengthText(written.maximum),
    });
  }
  const slackMetres = slackOf(written, written.unit, path, complaints);
  const empty = emptyRanges(written, written.unit, { nearMetres, farMetres }, path, complaints);
  return {
    reading: { form: "distance", unit: written.unit },
    band: { nearMetres, farMetres, slackMetres, maximumMetres, ...(empty === null ? {} : { empty }) },
  };
}

/** A meter that has seen nothing but the empty bay: no reading is in its band, and what is not empty is unknown. */
function emptyOnly(written: WrittenSignal, path: Path, complaints: Complaints): ReadingAndBand | null {
  if (written.unit === undefined || written.empty === undefined) {
    complaints.atKey(path, {
      code: "site-band",
      what: `${pathText(path)} says that no vehicle was seen yet, but not ${written.unit === undefined ? "in which unit its distances are" : "what an empty bay reads"}`,
      expected: `"unit" and "empty: [near, far]" beside "present: unseen"`,
    });
    return null;
  }
  const empty = emptyRanges(written, written.unit, UNSEEN_BAND, path, complaints);
  if (empty === null) return null;
  const maximumMetres = written.maximum === undefined ? null : lengthMetres(written.maximum, written.unit);
  return { reading: { form: "distance", unit: written.unit }, band: { ...UNSEEN_BAND, slackMetres: 0, maximumMetres, empty } };
}

/** No reading is 0 m: zero and below are set aside. */
const UNSEEN_BAND = { nearMetres: 0, farMetres: 0 } as const;

function position(written: WrittenSignal, path: Path, draft: SiteDraft): ReadingAndBand | null {
  const { complaints, site } = draft;
  if (!draft.declared.home) {
    complaints.atKey(path, {
      code: "site-reference",
      what: `The position signal ${quoted(String(path[1]))} needs to know where home is`,
      mend: `add "home: { latitude: ..., longitude: ... }" at the top level`,
    });
  }
  if (written.radius === undefined) {
    complaints.atKey(path, {
      code: "site-band",
      what: `"radius" is missing in ${pathText(path)}`,
      expected: "how near home counts as here, such as 150m",
    });
    return null;
  }
  const farMetres = lengthMetres(written.radius, written.unit ?? null);
  if (farMetres === null) complaints.atValue([...path, "radius"], unitMissing(written.radius, path));
  else if (farMetres <= 0) {
    complaints.atValue([...path, "radius"], {
      code: "site-band",
      what: `The radius of ${pathText(path)} is zero or less`,
      expected: "a length above zero",
      found: lengthText(written.radius),
    });
  }
  const slackMetres = slackOf(written, written.unit ?? null, path, complaints);
  if (site.home === undefined || farMetres === null) return null;
  return {
    reading: { form: "position", homeLatitude: site.home.latitude, homeLongitude: site.home.longitude },
    band: { nearMetres: 0, farMetres, slackMetres, maximumMetres: null },
  };
}

function slackOf(written: WrittenSignal, unit: DistanceUnit | null, path: Path, complaints: Complaints): number {
  if (written.slack === undefined) return 0;
  const slackMetres = lengthMetres(written.slack, unit);
  if (slackMetres === null) complaints.atValue([...path, "slack"], unitMissing(written.slack, path));
  else if (slackMetres < 0) {
    complaints.atValue([...path, "slack"], {
      code: "site-band",
      what: `The slack of ${pathText(path)} is negative`,
      expected: "zero or more: once on, the band becomes wider, not narrower",
      found: lengthText(written.slack),
    });
  }
  return slackMetres ?? 0;
}

function unitMissing(length: WrittenLength, path: Path) {
  return {
    code: "site-unit",
    what: `A length of ${pathText(path)} has no unit`,
    expected: `a length such as 150m, or "unit" beside it`,
    found: lengthText(length),
  } as const;
}

function lengthText(length: WrittenLength | undefined): string {
  return length === undefined ? "nothing" : `${length.value}${length.unit ?? ""}`;
}

/** Words are listed under the names of the subject's own two states, so that nobody has to guess what "on" means. */
function wordReading(
  written: WrittenSignal,
  subjectClass: SubjectClass,
  path: Path,
  source: Source | null,
  complaints: Complaints,
): ReadingAndBand | null {
  const names = stateWords[subjectClass];
  const keys = { on: names.on as (typeof wordKeys)[number], off: names.off as (typeof wordKeys)[number] };
  for (const key of wordKeys) {
    if (written[key] === undefined || key === keys.on || key === keys.off) continue;
    complaints.atKey([...path, key], {
      code: "site-shape",
      what: `${quoted(key)} is not a state of the ${subjectClass} ${quoted(written.on)}`,
      expected: `the words under "${keys.on}" and "${keys.off}"`,
    });
  }
  const words = plainWords(written, path, complaints);
  const on = words[keys.on];
  const off = words[keys.off];
  for (const key of [keys.on, keys.off]) {
    if (written[key] === undefined) {
      complaints.atKey(path, {
        code: "site-shape",
        what: `${quoted(key)} is missing in ${pathText(path)}`,
        expected: `the words of the export that mean ${key}`,
      });
    }
  }
  if (on === undefined || off === undefined) return null;
  checkWordsDiffer({ [keys.on]: on, [keys.off]: off }, path, source, complaints);
  return { reading: { form: "words", on, off }, band: null };
}

/** A stir signal may have no word for still: a tap only tells that somebody turned it. */
function stir({ stirs, still = [] }: WrittenSignal, path: Path, source: Source | null, complaints: Complaints): ReadingAndBand | null {
  if (stirs === undefined) {
    complaints.atKey(path, {
      code: "site-shape",
      what: `${quoted("stirs")} is missing in ${pathText(path)}`,
      expected: "the words of the export by which the sensor says that it notices somebody",
    });
    return null;
  }
  checkWordsDiffer({ stirs, still }, path, source, complaints);
  return { reading: { form: "words", on: stirs, off: still }, band: null };
}

/** No word may stand in two of the lists: those of the two states, and the source's for missing and lost. */
function checkWordsDiffer(words: Readonly<Record<string, readonly string[]>>, path: Path, source: Source | null, complaints: Complaints): void {
  const [[on, onWords] = ["", []], [off, offWords] = ["", []]] = Object.entries(words);
  const both = onWords.find((word) => offWords.includes(word));
  if (both !== undefined) {
    complaints.atKey([...path, off], {
      code: "site-reference",
      what: `The word ${quoted(both)} of ${pathText(path)} means both ${on} and ${off}`,
      mend: "keep it in one of the two lists",
    });
  }
  for (const [key, list] of Object.entries(words)) {
    const silent = list.find((word) => source !== null && (source.missing.includes(word) || source.lost.includes(word)));
    if (silent !== undefined && source !== null) {
      complaints.atKey([...path, key], {
        code: "site-reference",
        what: `The word ${quoted(silent)} of ${pathText(path)} is also listed as missing or lost in the source ${quoted(source.id)}`,
        mend: `keep it in one of the lists`,
      });
    }
  }
}

/** The lists of words, once `empty` is known to hold no distances. */
function plainWords(
  written: WrittenSignal,
  path: Path,
  complaints: Complaints,
): Partial<Record<(typeof wordKeys)[number], readonly string[] | undefined>> {
  const { empty, ...others } = written;
  if (empty === undefined) return others;
  const words = empty.filter((item) => typeof item === "string");
  if (words.length < empty.length) {
    complaints.atKey([...path, "empty"], {
      code: "site-shape",
      what: `The value of ${pathText([...path, "empty"])} cannot be used`,
      expected: "a word or a list of words as they stand in the export",
      found: "a list within a list",
    });
  }
  return { ...others, empty: words };
}
