import { expectedNames, quoted, suggestion } from "./complaints.js";
import { sectionOfClass, subjectClasses, type SiteDraft } from "./draft.js";
import type { WrittenCondition } from "./shape.js";
import { plainWords, stateWords, stirWords, type StateWords } from "./state-words.js";
import type { Path } from "./yaml-text.js";

/** What a condition names: a rule's `when` names signals, its `right_when` subjects, a condition under `named` either. */
export type ConditionSide = "signals" | "subjects" | "either";

/** The keys by which a condition names signals or subjects. */
export type AtomHead = "signal" | "subject" | "every" | "some";

/** A signal or subject that a condition names, with what decides the words for its states. */
interface Ref {
  readonly ref: string;
  /** The words for its two states, the usual ones first. */
  readonly words: readonly [StateWords, ...StateWords[]];
}

/** The signals or subjects that a condition names. Null when that is wrong; the complaint is then made. */
export function refsOf(written: WrittenCondition, head: AtomHead, path: Path, side: ConditionSide, draft: SiteDraft): Ref[] | null {
  if ((head === "signal" && side === "subjects") || (head === "subject" && side === "signals")) {
    draft.complaints.atKey([...path, head], {
      code: "site-reference",
      what: `${quoted(head)} does not belong in ${side === "subjects" ? "right_when" : "when"}`,
      expected:
        side === "subjects"
          ? "a subject: what makes a firing right is what truly happened, not what a sensor said"
          : "a signal: a rule knows only what its sensors say",
      mend: `write "${head === "signal" ? "subject" : "signal"}: NAME"`,
    });
    return null;
  }
  if (head === "subject") return oneSubject(written.subject ?? "", path, draft);
  if (head === "signal") return oneSignal(written.signal ?? "", path, draft);
  return ofClass(head, written[head] ?? "", path, side, draft);
}

function oneSubject(id: string, path: Path, { declared, complaints }: SiteDraft): Ref[] | null {
  const subjectClass = declared.subjects.get(id);
  if (subjectClass !== undefined) return [{ ref: id, words: [stateWords[subjectClass]] }];
  complaints.atValue([...path, "subject"], {
    code: "site-reference",
    what: `${quoted(id)} is not a bay, door or person of this site`,
    expected: expectedNames("one of", declared.subjects.keys()),
    mend: suggestion(id, declared.subjects.keys()),
  });
  return null;
}

/** A signal that a condition names beside its own; null when there is none. */
export function oneSignal(id: string, path: Path, draft: SiteDraft): [Ref] | null {
  const { declared, complaints } = draft;
  // If the signal's own entry is wrong, the complaint is made there.
  const ref = signalRef(id, draft);
  if (ref !== null) return [ref];
  if (declared.signals.has(id)) return null;
  const subjectClass = declared.subjects.get(id);
  complaints.atValue([...path, "signal"], {
    code: "site-reference",
    what: `${quoted(id)} is not a signal of this site`,
    expected: expectedNames("a name under signals:", declared.signals.keys()),
    mend: suggestion(
      id,
      declared.signals.keys(),
      subjectClass === undefined ? null : `${quoted(id)} is a ${subjectClass}: name a signal on it`,
    ),
  });
  return null;
}

/** A signal whose subject is known. */
function signalRef(id: string, { declared, site }: SiteDraft): Ref | null {
  const subjectClass = declared.subjects.get(declared.signals.get(id) ?? "");
  if (subjectClass === undefined) return null;
  const kind = site.signals[id]?.kind;
  if (kind === "stir") return { ref: id, words: [stirWords] };
  return { ref: id, words: kind === "flag" ? [stateWords[subjectClass], plainWords] : [stateWords[subjectClass]] };
}

/** Every subject of a class, or every signal on one of them in the order of the subjects. */
function ofClass(head: "every" | "some", plural: string, path: Path, side: ConditionSide, draft: SiteDraft): Ref[] | null {
  const { declared, complaints } = draft;
  if (plural === "stirs") return everyStir(head, path, side, draft);
  const subjectClass = subjectClasses.find((one) => sectionOfClass[one] === plural) ?? "bay";
  const subjects = [...declared.subjects].filter(([, one]) => one === subjectClass).map(([id]) => id);
  const bySubject = new Map<string, string[]>();
  for (const [id, on] of declared.signals) if (on !== null) bySubject.set(on, [...(bySubject.get(on) ?? []), id]);
  const refs =
    side === "subjects"
      ? subjects.map((ref): Ref => ({ ref, words: [stateWords[subjectClass]] }))
      : subjects.flatMap((subject) => (bySubject.get(subject) ?? []).filter((id) => !isStir(id, draft)).map((id) => signalRef(id, draft))).filter((ref) => ref !== null);
  const untold = side === "subjects" ? undefined : subjects.find((subject) => bySubject.get(subject)?.every((id) => isStir(id, draft)) === true);
  if (untold !== undefined) {
    complaints.atValue([...path, head], {
      code: "site-reference",
      what: `${quoted(`${head}: ${plural}`)} cannot speak of ${quoted(untold)}: nothing on it can tell that nobody is there`,
      expected: "a signal that knows both states on each",
      mend: `name the signals one by one, and "every: stirs" with "is: still" and a time beside them`,
    });
    return null;
  }
  if (refs.length > 0) return refs;
  complaints.atValue([...path, head], {
    code: "site-reference",
    what: `${quoted(`${head}: ${plural}`)} names nothing: the site has no ${plural}`,
    expected: `one or more under ${plural}`,
  });
  return null;
}

function isStir(id: string, { site }: SiteDraft): boolean {
  return site.signals[id]?.kind === "stir";
}

/** Every stir signal of the site, in the order of the file. They are signals: what makes a rule right never names them. */
function everyStir(head: "every" | "some", path: Path, side: ConditionSide, draft: SiteDraft): Ref[] | null {
  const { declared, complaints } = draft;
  const refs = [...declared.signals.keys()].filter((id) => isStir(id, draft)).map((id) => signalRef(id, draft)).filter((ref) => ref !== null);
  if (side !== "subjects" && refs.length > 0) return refs;
  complaints.atValue([...path, head], {
    code: "site-reference",
    what: side === "subjects" ? `${quoted(`${head}: stirs`)} does not belong in right_when` : `${quoted(`${head}: stirs`)} names nothing: the site has no signal of kind stir`,
    expected: side === "subjects" ? "bays, doors or people: what makes a firing right is what truly happened" : "one or more signals of kind stir",
  });
  return null;
}
