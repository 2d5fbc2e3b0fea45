import { quoted } from "./complaints.js";
import { sectionOfClass, subjectClasses, type SiteDraft } from "./draft.js";
import type { Subject } from "./site.js";

/** The bays, doors and people, in file order within each class. Complains of clashing names and of subjects nothing watches. */
export function buildSubjects(draft: SiteDraft): Subject[] {
  const { site, declared, complaints } = draft;
  if (declared.subjects.size === 0) {
    complaints.atKey([], {
      code: "site-reference",
      what: "The site has no bay, door or person",
      mend: "list what the signals watch under bays, doors or people",
    });
  }
  const watched = new Set(declared.signals.values());
  const subjects: Subject[] = [];
  for (const subjectClass of subjectClasses) {
    const section = sectionOfClass[subjectClass];
    for (const id of Object.keys(site[section] ?? {})) {
      const path = [section, id];
      const firstClass = declared.subjects.get(id);
      if (firstClass !== undefined && firstClass !== subjectClass) {
        complaints.atKey(path, {
          code: "site-reference",
          what: `${quoted(id)} is already the name of a ${firstClass}`,
          expected: "each bay, door and person to have a name of its own",
        });
        continue;
      }
      if (!watched.has(id)) {
        complaints.atKey(path, {
          code: "site-reference",
          what: `No signal watches the ${subjectClass} ${quoted(id)}`,
          mend: `add a signal with "on: ${id}", or take the ${subjectClass} out`,
        });
      }
      const vehicle = subjectClass === "bay" ? site.bays?.[id]?.vehicle : undefined;
      subjects.push({ id, class: subjectClass, vehicle: vehicle ?? null });
    }
  }
  return subjects;
}
