import { foundText, pathText } from "./check-shape.js";
import { expectedNames, nameList, quoted, suggestion } from "./complaints.js";
import { oneSignal, refsOf, type AtomHead, type ConditionSide } from "./condition-refs.js";
import type { SiteDraft } from "./draft.js";
import type { Expression, Since } from "./expression.js";
import { conditionHeads, type WrittenCondition } from "./shape.js";
import { stateOfWord } from "./state-words.js";
import type { Path } from "./yaml-text.js";

/** A condition with more parts is a mistake or an attack: a thousand bays with six signals each fit. Named ones are written out. */
const LARGEST_CONDITION = 20_000;

/** What the parts of one condition share while it is built. */
interface Building {
  readonly draft: SiteDraft;
  readonly side: ConditionSide;
  size: number;
  tooLarge: boolean;
}

/** Builds a condition. Null when something in it is wrong; the complaint is then made. */
export function buildCondition(written: WrittenCondition, path: Path, side: ConditionSide, draft: SiteDraft): Expression | null {
  return build(written, path, [], { draft, side, size: 0, tooLarge: false });
}

/** Builds every condition under `named` once, so that mistakes in unused ones are found too. */
export function checkNamedConditions(draft: SiteDraft): void {
  for (const [name, written] of Object.entries(draft.site.named ?? {})) {
    build(written, ["named", name], [name], { draft, side: "either", size: 0, tooLarge: false });
  }
}

function build(written: WrittenCondition, path: Path, within: readonly string[], building: Building): Expression | null {
  const { complaints } = building.draft;
  if (!fits(path, building)) return null;
  const heads = conditionHeads.filter((head) => written[head] !== undefined);
  const head = heads[0];
  if (head === undefined || heads.length > 1) {
    complaints.atKey(path, {
      code: "site-shape",
      what:
        head === undefined
          ? `${pathText(path)} is not a condition`
          : `${pathText(path)} mixes ${heads.map(quoted).join(" and ")} in one condition`,
      expected: `exactly one of ${nameList(conditionHeads)}`,
      found: head === undefined ? foundText(Object.fromEntries(Object.keys(written).map((key) => [key, null]))) : null,
      mend: head === undefined ? null : "join them with all or any",
    });
    return null;
  }
  if (head === "signal" || head === "subject" || head === "every" || head === "some") return buildAtoms(written, head, path, building);
  for (const key of ["is", "turned", "held", "recently", "since", "within"] as const) {
    if (written[key] === undefined) continue;
    complaints.atKey([...path, key], {
      code: "site-shape",
      what: `${quoted(key)} does not go with ${quoted(head)} in ${pathText(path)}`,
      expected: `it only with signal, subject, every or some`,
    });
  }
  if (written.use !== undefined) return buildUse(written.use, path, within, building);
  if (written.not !== undefined) {
    const of = build(written.not, [...path, "not"], within, building);
    return of === null ? null : { op: "not", of };
  }
  if (written.at_least !== undefined) return buildAtLeast(written.at_least, [...path, "at_least"], within, building);
  const op = written.all === undefined ? "any" : "all";
  const of = buildList(written[op] ?? [], [...path, op], within, building);
  return of === null ? null : { op, of };
}

function buildList(written: readonly WrittenCondition[], path: Path, within: readonly string[], building: Building): Expression[] | null {
  const built = written.map((one, position) => build(one, [...path, position], within, building));
  return built.includes(null) ? null : (built as Expression[]);
}

function buildAtLeast(
  written: NonNullable<WrittenCondition["at_least"]>,
  path: Path,
  within: readonly string[],
  building: Building,
): Expression | null {
  const of = buildList(written.of, [...path, "of"], within, building);
  if (written.count > written.of.length) {
    building.draft.complaints.atValue([...path, "count"], {
      code: "rule-never-fires",
      what: `${pathText(path)} can never be true: it asks for ${written.count} of ${written.of.length}`,
      expected: `at most ${written.of.length}`,
    });
    return null;
  }
  return of === null ? null : { op: "atLeast", count: written.count, of };
}

function buildUse(name: string, path: Path, within: readonly string[], building: Building): Expression | null {
  const { site, declared, complaints } = building.draft;
  const usePath = [...path, "use"];
  if (within.includes(name)) {
    const circle = [...within.slice(within.indexOf(name)), name].join(" → ");
    complaints.atValue(usePath, { code: "site-reference", what: `The named condition ${quoted(name)} uses itself`, found: circle });
    return null;
  }
  if (!declared.conditions.has(name)) {
    complaints.atValue(usePath, {
      code: "site-reference",
      what: `${quoted(name)} is not a named condition`,
      expected: expectedNames("a name under named:", declared.conditions),
      mend: suggestion(name, declared.conditions),
    });
    return null;
  }
  const written = site.named?.[name];
  return written === undefined ? null : build(written, ["named", name], [...within, name], building);
}

/** One atom a signal or subject; `every` joins them with all, `some` with any. */
function buildAtoms(
  written: WrittenCondition,
  head: AtomHead,
  path: Path,
  building: Building,
): Expression | null {
  const refs = refsOf(written, head, path, building.side, building.draft);
  const timing = timingIsRight(written, path, building);
  if (refs === null || !timing) return null;
  const atoms: Expression[] = [];
  const since = written.since === undefined ? undefined : buildSince(written.since, head, path, building);
  if (since === null) return null;
  for (const { ref, words } of refs) {
    if (!fits(path, building)) return null;
    const word = written.is ?? written.turned ?? "";
    const state = stateOfWord(word, words);
    if (state === null) {
      const [{ on, off }, ...others] = words;
      building.draft.complaints.atValue([...path, written.is === undefined ? "turned" : "is"], {
        code: "site-reference",
        what: `${quoted(word)} is not a state of ${head === "signal" || head === "subject" ? quoted(ref) : (written[head] ?? "")}`,
        expected: `${on} or ${off}${others.map((pair) => `, or ${pair.on} or ${pair.off}`).join("")}`,
        mend: suggestion(word, [on, off]),
      });
      return null;
    }
    if (written.turned === undefined) {
      atoms.push({ op: "is", ref, state, heldMs: written.held ?? null, recentlyMs: written.recently ?? null, ...(since === undefined ? {} : { since }) });
    } else atoms.push({ op: "turned", ref, to: state, withinMs: written.within ?? 0 });
  }
  const [only] = atoms;
  if (atoms.length === 1 && only !== undefined) return only;
  return { op: head === "some" ? "any" : "all", of: atoms };
}

/** Null when it is wrong; the complaint is then made. */
function buildSince(written: NonNullable<WrittenCondition["since"]>, head: AtomHead, path: Path, { side, draft }: Building): Since | null {
  const sincePath = [...path, "since"];
  if (side === "subjects" || head === "subject") {
    draft.complaints.atKey(sincePath, { code: "site-shape", what: `"since" does not belong in right_when`, expected: "is, or turned with within" });
    return null;
  }
  const found = oneSignal(written.signal, sincePath, draft);
  if (found === null) return null;
  const [{ ref, words }] = found;
  const to = stateOfWord(written.turned, words);
  if (to !== null) return { ref, to, graceMs: written.grace ?? 0 };
  const [{ on, off }] = words;
  draft.complaints.atValue([...sincePath, "turned"], {
    code: "site-reference",
    what: `${quoted(written.turned)} is not a state of ${quoted(ref)}`,
    expected: `${on} or ${off}`,
    mend: suggestion(written.turned, [on, off]),
  });
  return null;
}

/** Exactly one of `is` and `turned`, each with the times that belong to it. */
function timingIsRight(written: WrittenCondition, path: Path, building: Building): boolean {
  const { complaints } = building.draft;
  if ((written.is === undefined) === (written.turned === undefined)) {
    complaints.atKey(path, {
      code: "site-shape",
      what: `${pathText(path)} needs one of "is" and "turned"`,
      expected: `"is: STATE" or "turned: STATE" with "within: TIME"`,
      found: written.is === undefined ? "neither" : "both",
    });
    return false;
  }
  const verb = written.is === undefined ? "turned" : "is";
  const misplaced = (verb === "is" ? (["within"] as const) : (["held", "recently", "since"] as const)).filter((key) => written[key] !== undefined);
  for (const key of misplaced) {
    complaints.atKey([...path, key], {
      code: "site-shape",
      what: `${quoted(key)} does not go with ${quoted(verb)} in ${pathText(path)}`,
      expected: verb === "is" ? "held, recently or since" : "within",
    });
  }
  if (misplaced.length > 0) return false;
  const [first, second] = (["held", "recently", "since"] as const).filter((key) => written[key] !== undefined);
  if (first !== undefined && second !== undefined) {
    complaints.atKey([...path, second], {
      code: "site-shape",
      what: `${pathText(path)} has both ${quoted(first)} and ${quoted(second)}`,
      expected: "one of them; join two conditions with all for both",
    });
    return false;
  }
  if (verb === "turned" && written.within === undefined) {
    complaints.atKey(path, {
      code: "site-shape",
      what: `"within" is missing in ${pathText(path)}`,
      expected: "how long ago the change may be, such as 2min",
    });
    return false;
  }
  if (written.within === 0) {
    complaints.atValue([...path, "within"], {
      code: "rule-never-fires",
      what: `${pathText(path)} can never be true: nothing changes within no time`,
      expected: "a duration above zero",
    });
    return false;
  }
  return true;
}

/** Counts one more part; complains once when there are too many. */
function fits(path: Path, building: Building): boolean {
  building.size++;
  if (building.size <= LARGEST_CONDITION) return true;
  if (!building.tooLarge) {
    building.tooLarge = true;
    building.draft.complaints.atKey(path, {
      code: "site-shape",
      what: `The condition has more than ${LARGEST_CONDITION} parts once its named conditions are written out`,
      mend: "make it smaller",
    });
  }
  return false;
}
