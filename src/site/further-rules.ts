import { InputError } from "../ground/problem.js";
import { checkNamedConditions } from "./build-condition.js";
import { buildRules } from "./build-rules.js";
import { checkShape, foundText, isMapping, valueAt } from "./check-shape.js";
import { makeComplaints, quoted, sortedProblems, suggestion, type Complaints } from "./complaints.js";
import { makeDraft } from "./draft.js";
import type { RuleSpec, Site } from "./site.js";
import { readYaml, type Path, type YamlText } from "./yaml-text.js";

/** What a file of further rules may hold. */
const keys = ["rules", "named"] as const;

/**
 * Reads rules to be tried beside a site's own: YAML with `rules`, written as in the site file, and if wished `named`. They may use
 * the site's signals, subjects and named conditions. `file` is what messages call it; `siteText` is the text `site` was read from.
 * Throws `InputError` with every problem found, in order of line; throws nothing else.
 */
export function parseFurtherRules(text: string, file: string, site: Site, siteText: string): RuleSpec[] {
  const yaml = readYaml(text, file);
  const siteYaml = readYaml(siteText, site.file);
  const complaints = makeComplaints(yaml, file);
  checkKeys(yaml, siteYaml, complaints);
  if (complaints.problems.length > 0) throw new InputError(sortedProblems(complaints.problems));

  // The site file with other rules in it goes through the same checks as the site file did.
  const both = withFurtherRules(siteYaml, yaml);
  const found = makeComplaints(both, file);
  const shaped = checkShape(both, found);
  if (shaped === null) throw new InputError(sortedProblems(found.problems));
  const draft = makeDraft(both, shaped, file, found);
  checkNamedConditions(draft);
  const rules = buildRules(draft, site, both);
  complainOfNamesakes(both, site, found);
  if (found.problems.length > 0) throw new InputError(sortedProblems(found.problems));
  return rules;
}

function checkKeys(yaml: YamlText, siteYaml: YamlText, complaints: Complaints): void {
  const { value } = yaml;
  if (!isMapping(value)) {
    complaints.atValue([], {
      code: "site-shape",
      what: "This is not a file of further rules",
      expected: "a mapping with `rules`, written as in the site file",
      found: foundText(value),
    });
    return;
  }
  for (const key of Object.keys(value).filter((one) => !(keys as readonly string[]).includes(one))) {
    complaints.atKey([key], {
      code: "site-shape",
      what: `${quoted(key)} does not belong in a file of further rules`,
      expected: "rules, and named if you like",
      mend: suggestion(key, keys),
    });
  }
  const rules = valueAt(value, ["rules"]);
  if (rules === undefined || rules === null || (Array.isArray(rules) && rules.length === 0)) {
    complaints.atKey([], {
      code: "site-shape",
      what: "The file has no further rules",
      expected: "a list under `rules`, written as in the site file",
      found: foundText(rules),
    });
  }
  const named = valueAt(value, ["named"]);
  for (const name of isMapping(named) ? Object.keys(named) : []) {
    if (valueAt(siteYaml.value, ["named", name]) === undefined) continue;
    complaints.atKey(["named", name], {
      code: "site-reference",
      what: `The site file has a named condition ${quoted(name)} already`,
      expected: "a name of its own",
    });
  }
}

/** The site's values with the further rules in place of its own, and places that point into the file of further rules. */
function withFurtherRules(siteYaml: YamlText, yaml: YamlText): YamlText {
  const site = isMapping(siteYaml.value) ? siteYaml.value : {};
  const further = isMapping(yaml.value) ? yaml.value : {};
  const names = [site["named"], further["named"]].filter(isMapping);
  const named = names.length === 0 ? {} : { named: Object.assign({}, ...names) as YamlText["value"] };
  const isFurther = (path: Path): boolean => valueAt(yaml.value, path.slice(0, path[0] === "named" ? 2 : 1)) !== undefined;
  return {
    value: { ...site, ...named, rules: further["rules"] ?? null },
    problems: [],
    placeOf: (path) => (isFurther(path) ? yaml : siteYaml).placeOf(path),
    placeOfKey: (path) => (isFurther(path) ? yaml : siteYaml).placeOfKey(path),
  };
}

function complainOfNamesakes(both: YamlText, site: Site, complaints: Complaints): void {
  const rules = valueAt(both.value, ["rules"]);
  (Array.isArray(rules) ? rules : []).forEach((_, position) => {
    const path = ["rules", position, "name"];
    const name = valueAt(both.value, path);
    const own = site.rules.find((rule) => rule.name === name);
    if (own === undefined) return;
    complaints.atValue(path, {
      code: "site-reference",
      what: `The site has a rule called ${quoted(own.name)} already`,
      expected: "a name of its own for each rule",
      mend: "give it another name",
    });
  });
}
