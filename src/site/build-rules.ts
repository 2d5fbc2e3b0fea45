import { buildCondition } from "./build-condition.js";
import { buildStated } from "./build-stated.js";
import { quoted } from "./complaints.js";
import { contradiction } from "./contradiction.js";
import { defaultRightWhen } from "./default-right-when.js";
import type { SiteDraft } from "./draft.js";
import type { Expression } from "./expression.js";
import { expressionText, type WordedSite } from "./expression-text.js";
import type { WrittenRule } from "./shape.js";
import type { RuleSpec } from "./site.js";
import type { Path, YamlText } from "./yaml-text.js";

/** The rules of a site. Complains of names given twice, wrong conditions, and rules that can never fire. */
export function buildRules(draft: SiteDraft, worded: WordedSite, yaml: YamlText): RuleSpec[] {
  const rules: RuleSpec[] = [];
  const lineOfName = new Map<string, number>();
  (draft.site.rules ?? []).forEach((written, index) => {
    const path = ["rules", draft.rulePositions[index] ?? index];
    const { line } = yaml.placeOf(path);
    const first = lineOfName.get(written.name);
    if (first === undefined) lineOfName.set(written.name, line);
    else {
      draft.complaints.atValue([...path, "name"], {
        code: "site-reference",
        what: `Two rules are called ${quoted(written.name)}`,
        expected: "a name of its own for each rule",
        found: `the first on line ${first}`,
      });
    }
    const when = buildWhen(written, path, draft, worded);
    const rightWhen = buildRightWhen(written, path, draft, worded);
    const stated = buildStated(written, when, path, draft);
    if (when === null || rightWhen === null) return;
    rules.push({
      name: written.name,
      act: written.act,
      when,
      rightWhen,
      rightWhenIsDefault: written.right_when === undefined,
      restMs: written.rest ?? 0,
      ...stated,
      line,
    });
  });
  return rules;
}

function buildWhen(written: WrittenRule, path: Path, draft: SiteDraft, worded: WordedSite): Expression | null {
  const when = buildCondition(written.when, [...path, "when"], "signals", draft);
  const never = when === null ? null : contradiction(when);
  if (never !== null) {
    draft.complaints.atKey([...path, "when"], {
      code: "rule-never-fires",
      what: `The rule ${quoted(written.name)} can never fire`,
      found:
        never.clash === null
          ? null
          : `"${expressionText(never.clash.one, worded)}" and "${expressionText(never.clash.other, worded)}", which exclude each other`,
    });
  }
  return when;
}

function buildRightWhen(written: WrittenRule, path: Path, draft: SiteDraft, worded: WordedSite): Expression | null {
  if (written.right_when === undefined) {
    const rightWhen = defaultRightWhen(written.act, worded.subjects);
    // A site without subjects has its complaint already.
    if (rightWhen === null && draft.declared.subjects.size > 0) {
      draft.complaints.atKey(path, {
        code: "site-reference",
        what: `The rule ${quoted(written.name)} does not say what makes it right, and the site has no people or bays to judge it by`,
        mend: `add "right_when"`,
      });
    }
    return rightWhen;
  }
  const rightWhen = buildCondition(written.right_when, [...path, "right_when"], "subjects", draft);
  const never = rightWhen === null ? null : contradiction(rightWhen);
  if (never !== null) {
    draft.complaints.atKey([...path, "right_when"], {
      code: "rule-never-fires",
      what: `The rule ${quoted(written.name)} can never be right`,
      found:
        never.clash === null
          ? null
          : `"${expressionText(never.clash.one, worded)}" and "${expressionText(never.clash.other, worded)}", which exclude each other`,
    });
  }
  return rightWhen;
}
