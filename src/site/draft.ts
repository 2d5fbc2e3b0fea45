import { isMapping, valueAt, type ShapedSite } from "./check-shape.js";
import type { Complaints } from "./complaints.js";
import type { WrittenSite } from "./shape.js";
import type { SubjectClass } from "./site.js";
import type { YamlText } from "./yaml-text.js";

/** All names the file declares, also those of entries that were left out for their shape: they are not unknown. */
export interface DeclaredNames {
  readonly sources: ReadonlySet<string>;
  /** Each subject's class; the first declaration counts. */
  readonly subjects: ReadonlyMap<string, SubjectClass>;
  /** Names that two subjects of different classes share: what is said of them cannot be checked. */
  readonly clashing: ReadonlySet<string>;
  /** Whether the file has a `home`, even a wrong one. */
  readonly home: boolean;
  /** Each signal's subject as written, null where that cannot be read. */
  readonly signals: ReadonlyMap<string, string | null>;
  readonly conditions: ReadonlySet<string>;
}

/** A site file on its way to a `Site`. */
export interface SiteDraft {
  readonly file: string;
  readonly site: WrittenSite;
  readonly rulePositions: readonly number[];
  readonly declared: DeclaredNames;
  readonly complaints: Complaints;
}

/** How the site file calls each class of subjects. */
export const sectionOfClass = { bay: "bays", door: "doors", person: "people" } as const satisfies Record<SubjectClass, string>;

/** The classes in the order the file lists them. */
export const subjectClasses = ["bay", "door", "person"] as const satisfies readonly SubjectClass[];

/** Gathers what the builders need. */
export function makeDraft(yaml: YamlText, shaped: ShapedSite, file: string, complaints: Complaints): SiteDraft {
  const keysOf = (section: string): string[] => {
    const content = valueAt(yaml.value, [section]);
    return isMapping(content) ? Object.keys(content) : [];
  };
  const subjects = new Map<string, SubjectClass>();
  const clashing = new Set<string>();
  for (const subjectClass of subjectClasses) {
    for (const id of keysOf(sectionOfClass[subjectClass])) {
      if (subjects.has(id)) clashing.add(id);
      else subjects.set(id, subjectClass);
    }
  }
  const signals = new Map<string, string | null>();
  for (const id of keysOf("signals")) {
    const on = valueAt(yaml.value, ["signals", id, "on"]);
    signals.set(id, typeof on === "string" ? on : null);
  }
  return {
    file,
    site: shaped.site,
    rulePositions: shaped.rulePositions,
    declared: {
      sources: new Set(keysOf("sources")),
      subjects,
      clashing,
      home: valueAt(yaml.value, ["home"]) !== undefined,
      signals,
      conditions: new Set(keysOf("named")),
    },
    complaints,
  };
}
