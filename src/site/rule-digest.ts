import { createHash } from "node:crypto";
import { expressionRefs } from "./expression-refs.js";
import type { RuleSpec, Site } from "./site.js";

/** Digits kept: enough that two rules of a site hardly ever share them by chance. */
const DIGEST_DIGITS = 16;

/** One more whenever evidence is counted in another way: earlier counts mean something else and are not added. */
const COUNTING = 3;

/**
 * A short digest of all that a rule's evidence depends on: its act, condition, right_when, rest and limits; the site's
 * confidence and settings; and each signal it uses with band, model, firmware and its source's clock correction. It does
 * not depend on the rule's name, `independent`, other rules and signals, or where files are. Evidence of two periods is
 * added where the digests are equal. Our own choice of what counts: a replaced sensor (another model or firmware) is
 * another sensor, and what the old one did proves nothing about it.
 */
export function ruleDigest(site: Site, rule: RuleSpec): string {
  const used = new Set(expressionRefs(rule.when));
  const corrections = new Map(site.sources.map((source) => [source.id, source.clockCorrectionMs]));
  const limits = site.limits[rule.act];
  const essence = {
    counting: COUNTING,
    act: rule.act,
    when: rule.when,
    rightWhen: rule.rightWhen,
    restMs: rule.restMs,
    // However they are written.
    limits: limits === undefined ? null : { ...limits, inWords: undefined },
    confidence: site.confidence,
    settings: [site.bridgeMs, site.joinMs, site.restartMs],
    signals: site.signals
      .filter(({ id }) => used.has(id))
      .toSorted((a, b) => (a.id < b.id ? -1 : 1))
      // A new name for the same sensor is no new sensor.
      .map((signal) => ({ ...signal, otherSources: undefined, otherChannels: undefined, independent: undefined, clockCorrectionMs: corrections.get(signal.source) ?? 0 })),
  };
  return createHash("sha256").update(canonicalJson(essence)).digest("hex").slice(0, DIGEST_DIGITS);
}

/** JSON with the keys of every object in order, so that equal things have equal text. */
function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    typeof inner === "object" && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}
