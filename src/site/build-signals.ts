import { pathText } from "./check-shape.js";
import { expectedNames, quoted, suggestion } from "./complaints.js";
import type { SiteDraft } from "./draft.js";
import { listed } from "./leaves.js";
import { readingAndBand } from "./build-reading.js";
import type { WrittenSignal } from "./shape.js";
import type { SignalKind, SignalSpec, Source, SubjectClass } from "./site.js";

/** Which subjects each kind can watch. */
const kindSuits: Readonly<Record<SignalKind, readonly SubjectClass[]>> = {
  distance: ["bay"],
  contact: ["door", "bay"],
  phone: ["person"],
  position: ["person"],
  flag: ["bay", "door", "person"],
  stir: ["person"],
};

/** A stir that no word for still ends counts for this long (milliseconds): a tap or a switch tells an instant. Our own choice. */
const STIR_LASTS_MS = 60_000;

/** The signals of a site. Complains of unknown names, kinds that do not suit the subject, and wrong columns or words. */
export function buildSignals(draft: SiteDraft, sources: readonly Source[]): SignalSpec[] {
  const bySource = new Map(sources.map((source) => [source.id, source]));
  const signals: SignalSpec[] = [];
  for (const [id, written] of Object.entries(draft.site.signals)) {
    const subjectClass = subjectClassOf(id, written, draft);
    const [source = null, ...otherSources] = written.source.map((name) => sourceOf(id, name, written, bySource, draft));
    const [channel = null, ...otherChannels] = written.channel ?? [];
    const read = readingAndBand(id, written, subjectClass, source, draft);
    if (read === null) continue;
    signals.push({
      id,
      subject: written.on,
      source: written.source[0] ?? "",
      ...(otherSources.length === 0 ? {} : { otherSources: written.source.slice(1) }),
      kind: written.kind,
      channel,
      ...(otherChannels.length === 0 ? {} : { otherChannels }),
      reading: read.reading,
      band: read.band,
      settleMs: written.settle ?? 0,
      expectMs: written.expect ?? null,
      ...lastsOf(written),
      shares: [...new Set(written.shares ?? [])],
      ...independentOf(id, written, draft),
      model: written.model ?? null,
      ...(written.firmware === undefined ? {} : { firmware: written.firmware }),
    });
  }
  checkOneSignalAChannel(draft, bySource);
  return signals;
}

function lastsOf({ kind, lasts, still }: WrittenSignal): Pick<SignalSpec, "lastsMs"> {
  if (kind !== "stir") return {};
  if (lasts !== undefined) return { lastsMs: lasts };
  return still === undefined || still.length === 0 ? { lastsMs: STIR_LASTS_MS } : {};
}

function subjectClassOf(id: string, written: WrittenSignal, draft: SiteDraft): SubjectClass | null {
  const { declared, complaints } = draft;
  const path = ["signals", id];
  const subjectClass = declared.subjects.get(written.on);
  if (subjectClass === undefined) {
    complaints.atValue([...path, "on"], {
      code: "site-reference",
      what: `The signal ${quoted(id)} is on ${quoted(written.on)}, which is not a bay, door or person of this site`,
      expected: expectedNames("one of", declared.subjects.keys()),
      mend: suggestion(written.on, declared.subjects.keys(), "add it under bays, doors or people"),
    });
    return null;
  }
  if (declared.clashing.has(written.on)) return null;
  const suited = kindSuits[written.kind];
  if (!suited.includes(subjectClass)) {
    complaints.atValue([...path, "kind"], {
      code: "site-reference",
      what: `A ${written.kind} signal cannot watch the ${subjectClass} ${quoted(written.on)}`,
      expected: `a ${written.kind} to be on a ${listed(suited)}`,
      mend:
        written.kind === "stir"
          ? "name the person it tells of; where it may be anybody, one person who stands for the household"
          : `use "kind: flag" for a plain yes or no`,
    });
  }
  const clash = declared.subjects.get(id);
  if (clash !== undefined && id !== written.on) {
    complaints.atKey(path, {
      code: "site-reference",
      what: `The signal ${quoted(id)} has the name of a ${clash} that it does not watch`,
      mend: "rename the signal",
    });
  }
  return subjectClass;
}

/** Complains of unknown signals, and of two that are called independent though they share a cause. */
function independentOf(
  id: string,
  { independent, shares = [] }: WrittenSignal,
  { site, complaints }: SiteDraft,
): Pick<SignalSpec, "independent"> {
  if (independent === undefined) return {};
  const path = ["signals", id, "independent", "of"];
  const others = Object.keys(site.signals).filter((name) => name !== id);
  for (const name of independent.of) {
    const other = site.signals[name];
    if (other === undefined || name === id) {
      complaints.atValue(path, {
        code: "site-reference",
        what: `The signal ${quoted(id)} is called independent of ${quoted(name)}, which is not another signal of this site`,
        expected: expectedNames("one of", others),
        mend: suggestion(name, others),
      });
      continue;
    }
    const common = shares.filter((cause) => other.shares?.includes(cause));
    if (common.length > 0) {
      complaints.atValue(path, {
        code: "site-reference",
        what: `The signals ${quoted(id)} and ${quoted(name)} are called independent, but both share ${common.map(quoted).join(", ")}`,
        mend: "delete whichever is wrong: `independent`, or the name under `shares`",
      });
    }
  }
  return { independent: { of: [...new Set(independent.of)], because: independent.because } };
}

function sourceOf(id: string, name: string, written: WrittenSignal, sources: ReadonlyMap<string, Source>, draft: SiteDraft): Source | null {
  const { declared, complaints } = draft;
  const path = ["signals", id];
  if (!declared.sources.has(name)) {
    complaints.atValue([...path, "source"], {
      code: "site-reference",
      what: `The signal ${quoted(id)} comes from the source ${quoted(name)}, which the file does not describe`,
      expected: expectedNames("one of", declared.sources),
      mend: suggestion(name, declared.sources, "describe it under sources"),
    });
    return null;
  }
  const source = sources.get(name);
  if (source === undefined) return null;
  if (source.layout.form === "long" && written.channel === undefined) {
    complaints.atKey(path, {
      code: "site-reference",
      what: `${quoted("channel")} is missing in ${pathText(path)}`,
      expected: `what stands in the column ${quoted(source.layout.signalColumn)} of ${quoted(source.id)} for this signal`,
    });
  }
  if (source.layout.form === "wide") {
    if (written.channel !== undefined && written.source.length === 1) {
      complaints.atKey([...path, "channel"], {
        code: "site-reference",
        what: `The signal ${quoted(id)} needs no channel: its source ${quoted(source.id)} has a column a signal`,
        mend: `take "channel" out`,
      });
    }
    if (!source.layout.columns.has(id)) {
      complaints.atKey(path, {
        code: "site-reference",
        what: `The source ${quoted(source.id)} has no column for the signal ${quoted(id)}`,
        mend: `add ${quoted(id)} with its column under sources › ${source.id} › each`,
      });
    }
  }
  return source;
}

/** Two signals on one channel would count one sensor's word twice. */
function checkOneSignalAChannel(draft: SiteDraft, sources: ReadonlyMap<string, Source>): void {
  const taken = new Map<string, string>();
  for (const [id, written] of Object.entries(draft.site.signals)) {
    for (const source of written.source.flatMap((name) => sources.get(name) ?? [])) {
      const column = source.layout.form === "wide" ? source.layout.columns.get(id) : undefined;
      const channels = column === undefined ? (written.channel ?? []) : [JSON.stringify(column)];
      for (const channel of channels) {
        const key = JSON.stringify([source.id, channel]);
        const first = taken.get(key);
        if (first === undefined || first === id) {
          taken.set(key, id);
          continue;
        }
        const [what, path] = column === undefined ? ["channel", ["signals", id, "channel"]] : ["column", ["sources", source.id, "each", id]];
        draft.complaints.atKey(path, {
          code: "site-reference",
          what: `The signals ${quoted(first)} and ${quoted(id)} read the same ${what} of ${quoted(source.id)}`,
          expected: "one signal for each: one sensor must not count as two",
        });
      }
    }
  }
}
