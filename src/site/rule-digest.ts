import { createHash } from "node:crypto";
import { expressionRefs } from "./expression-refs.js";
import type { RuleSpec, Site } from "./site.js";

/** Digits kept: enough that two different rules of one site never share them by chance. */
const DIGEST_DIGITS = 16;

/** Raised whenever evidence is counted in another way: counts made before then say something else, and are not added. */
const COUNTING = 3;

/**
 * A short digest of everything that makes a rule the rule it is: its act, condition, what makes it right, its rest and limits,
 * the confidence and the settings of the site, and every signal it listens to with its band, its model and firmware and the
 * clock correction of its source. Not its name, nor what a signal is called independent of, nor other rules, other signals, or where export files lie.
 * Evidence of two periods belongs together when the digests are equal. Our own choice of what counts: a replaced sensor
 * (another model or firmware) is another sensor, and what the old one did proves nothing about it.
 */
export function ruleDigest(site: Site, rule: RuleSpec): string {
  const used = new Set(expressionRefs(rule.when));
  const corrections = new Map(site.sources.map((source) => [source.id, source.clockCorrectionMs]));
  const essence = {
    counting: COUNTING,
    act: rule.act,
    when: rule.when,
    rightWhen: rule.rightWhen,
    restMs: rule.restMs,
    limits: site.limits[rule.act] ?? null,
    confidence: site.confidence,
    settings: [site.bridgeMs, site.joinMs, site.restartMs],
    signals: site.signals.filter(({ id }) => used.has(id)).toSorted((a, b) => (a.id < b.id ? -1 : 1)).map((signal) => ({ ...signal, independent: undefined, clockCorrectionMs: corrections.get(signal.source) ?? 0 })),
  };
  return createHash("sha256").update(canonicalJson(essence)).digest("hex").slice(0, DIGEST_DIGITS);
}

/** JSON with the keys of every object in order, so that equal things have equal text. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    typeof inner === "object" && inner !== null && !Array.isArray(inner) ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1))) : inner,
  );
}
