import { durationText } from "../ground/duration.js";
import type { Expression, Since } from "./expression.js";
import type { RuleSpec } from "./site.js";
import type { WordedSite } from "./expression-text.js";
import { wordsOfRef } from "./state-words.js";

/** Lines are broken where they would be longer than this. */
const WIDTH = 110;

/**
 * A rule as it stands under `rules:` in a site file, indented by two: read again, it is the same rule. What the user
 * states about its faults is left out: it was said of another rule.
 */
export function ruleText(rule: RuleSpec, site: WordedSite): string {
  const lines = [`  - name: ${written(rule.name)}`, `    act: ${rule.act}`, `    when: ${conditionText(rule.when, "signal", site, 4)}`];
  if (!rule.rightWhenIsDefault) lines.push(`    right_when: ${conditionText(rule.rightWhen, "subject", site, 4)}`);
  if (rule.restMs > 0) lines.push(`    rest: ${duration(rule.restMs)}`);
  return `${lines.join("\n")}\n`;
}

function conditionText(part: Expression, head: "signal" | "subject", site: WordedSite, indent: number): string {
  const flat = flatText(part, head, site);
  if (part.op === "is" || part.op === "turned" || part.op === "not" || indent + flat.length <= WIDTH) return flat;
  const pad = " ".repeat(indent);
  const of = part.of.map((one) => `${pad}    ${conditionText(one, head, site, indent + 4)}`).join(",\n");
  return part.op === "atLeast" ? `{ at_least: { count: ${part.count}, of: [\n${of}\n${pad}  ] } }` : `{ ${part.op}: [\n${of}\n${pad}  ] }`;
}

function flatText(part: Expression, head: "signal" | "subject", site: WordedSite): string {
  switch (part.op) {
    case "all":
    case "any":
      return `{ ${part.op}: [ ${part.of.map((one) => flatText(one, head, site)).join(", ")} ] }`;
    case "atLeast":
      return `{ at_least: { count: ${part.count}, of: [ ${part.of.map((one) => flatText(one, head, site)).join(", ")} ] } }`;
    case "not":
      return `{ not: ${flatText(part.of, head, site)} }`;
    case "is": {
      const held = part.heldMs === null ? "" : `, held: ${duration(part.heldMs)}`;
      const since = part.since === undefined ? "" : `, since: ${sinceText(part.since, head, site)}`;
      const recently = part.recentlyMs === null ? "" : `, recently: ${duration(part.recentlyMs)}`;
      return `{ ${head}: ${written(part.ref)}, is: ${wordOf(part.ref, part.state, site)}${held}${recently}${since} }`;
    }
    case "turned":
      return `{ ${head}: ${written(part.ref)}, turned: ${wordOf(part.ref, part.to, site)}, within: ${duration(part.withinMs)} }`;
  }
}

function sinceText({ ref, to, graceMs }: Since, head: "signal" | "subject", site: WordedSite): string {
  const grace = graceMs === 0 ? "" : `, grace: ${duration(graceMs)}`;
  return `{ ${head}: ${written(ref)}, turned: ${wordOf(ref, to, site)}${grace} }`;
}

function wordOf(ref: string, state: 0 | 1, site: WordedSite): string {
  const words = wordsOfRef(ref, site);
  return written(state === 1 ? words.on : words.off);
}

function duration(ms: number): string {
  return durationText(ms).replaceAll(" ", "");
}

/** Words that YAML would take for something else. */
const taken = /^(?:true|false|yes|no|on|off|null|y|n)$/i;

/** A text as YAML takes it for that text, in quotes where it needs them. */
function written(text: string): string {
  return /^[a-z][\w-]*(?: [a-z][\w-]*)*$/i.test(text) && !taken.test(text) ? text : JSON.stringify(text);
}
