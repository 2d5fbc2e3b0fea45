import type { Act, RuleSpec } from "../../site/site.js";
import type { JudgedVariant } from "../../result/findings.js";

/**
 * How many variants of each act were tried on one history, and the verdict is that of the best. The site's own rules
 * are not variants of one another: each has its own purpose. Every other rule of the act that was tried, now or in an
 * earlier run, is one more; so is every setting swept around a rule that is gone, since the present rule may be one of
 * them.
 */
export function variantsTried(
  own: readonly RuleSpec[],
  tried: readonly RuleSpec[],
  digests: ReadonlyMap<RuleSpec, string>,
  before: readonly JudgedVariant[],
): ReadonlyMap<Act, number> {
  const now = new Set(own.map((rule) => digests.get(rule)));
  const acts = [...new Set([...own, ...tried].map((rule) => rule.act))];
  return new Map(
    acts.map((act) => {
      const others = new Map<string, number>();
      for (const rule of tried) if (rule.act === act) others.set(digests.get(rule) ?? rule.name, 0);
      for (const one of before) if (one.act === act) others.set(one.digest, Math.max(one.settings, others.get(one.digest) ?? 0));
      const gone = [...others].filter(([digest]) => !now.has(digest));
      return [act, 1 + gone.reduce((sum, [, settings]) => sum + 1 + settings, 0)] as const;
    }),
  );
}

/**
 * Everything judged on a history so far: what earlier runs remember and what this one judges. Each digest once, with
 * the most settings ever swept around it.
 */
export function judgedSoFar(now: readonly JudgedVariant[], before: readonly JudgedVariant[]): JudgedVariant[] {
  const all = new Map<string, JudgedVariant>();
  for (const one of [...before, ...now]) {
    const known = all.get(one.digest);
    all.set(one.digest, known === undefined ? one : { ...one, settings: Math.max(one.settings, known.settings) });
  }
  return [...all.values()];
}
