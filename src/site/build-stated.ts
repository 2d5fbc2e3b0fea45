import { pathText } from "./check-shape.js";
import { expectedNames, quoted, suggestion } from "./complaints.js";
import type { SiteDraft } from "./draft.js";
import type { Expression } from "./expression.js";
import { expressionRefs } from "./expression-refs.js";
import type { WrittenRule } from "./shape.js";
import type { RuleSpec } from "./site.js";
import type { Path } from "./yaml-text.js";

/**
 * What the rule at `path` states about its parts; nothing at all where it has no `stated`. Complains of signals that the
 * site or the rule does not have. `when` is the rule's condition, null where that was wrong: only the site's signals are known then.
 */
export function buildStated(written: WrittenRule, when: Expression | null, path: Path, draft: SiteDraft): Pick<RuleSpec, "stated"> {
  if (written.stated === undefined) return {};
  const { common_cause, no_shared_hours, one_part } = written.stated;
  (one_part ?? []).forEach((part, i) => checkOnePart(written.name, part, when, [...path, "stated", "one_part", i], draft));
  return {
    stated: {
      commonCause: common_cause === undefined ? null : { atMostShare: common_cause.at_most, because: common_cause.because },
      noSharedHours: no_shared_hours ?? null,
      oneParts: one_part ?? [],
    },
  };
}

function checkOnePart(rule: string, part: readonly string[], when: Expression | null, path: Path, { declared, complaints }: SiteDraft): void {
  const used = when === null ? [...declared.signals.keys()] : expressionRefs(when);
  part.forEach((id, j) => {
    const place = [...path, j];
    if (part.indexOf(id) < j) {
      complaints.atValue(place, { code: "site-reference", what: `${pathText(path)} names ${quoted(id)} twice`, expected: "each signal once" });
    } else if (!used.includes(id)) {
      const known = declared.signals.has(id);
      complaints.atValue(place, {
        code: "site-reference", what: known ? `The rule ${quoted(rule)} does not use the signal ${quoted(id)}` : `${quoted(id)} is no signal of this site`,
        expected: expectedNames(when === null ? "a name under signals:" : "one of the signals that this rule uses:", used), mend: suggestion(id, used),
      });
    }
  });
}
