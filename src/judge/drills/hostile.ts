import { type HostileCase, type QuietState, quietStates, type Scene, scenes } from "../../result/trials.js";
import type { Expression } from "../../site/expression.js";
import { timelineOf } from "../../timeline/make.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { HOUR_MS } from "../../ground/units.js";
import { atomsText } from "../replay/firing-outcomes.js";
import { replay, type Replay } from "../replay/replay.js";
import { decidingAtoms, fewestBlocking, type AtomState } from "../rule/deciding-atoms.js";
import { letsIn, type PreparedRule } from "../rule/prepare.js";
import { sceneVariants, type SceneVariant } from "./scenes.js";

/** Watched this long after the last event, on top of the rule's own windows. Our own choice. */
const WATCHED_AFTER_MS = HOUR_MS;

/**
 * Plays every scene from every quiet state over the rule's own signals, through the same replay as the history. Before
 * the scene it is quiet for longer than every window and rest of the rule, so that only the scene can make it act. No
 * outage is recognised as a restart. Empty for rules that neither unlock nor disarm: these scenes let in, they do not
 * lock out.
 */
export function hostileCases(rule: PreparedRule): HostileCase[] {
  if (!letsIn(rule.spec.act)) return [];
  return scenes.flatMap((scene) => quietStates.map((state) => caseOf(scene, state, rule)));
}

function caseOf(scene: Scene, state: QuietState, rule: PreparedRule): HostileCase {
  const { spec, site } = rule;
  const signals = site.signals.filter((signal) => rule.signals.includes(signal.id));
  const variants = sceneVariants(scene, state, signals, site);
  let nearest: { readonly told: string; readonly blocking: readonly AtomState[] } | null = null;
  for (const variant of variants.filter((one) => one.steps.length > 0)) {
    const replayed = play(variant, rule);
    const firing = replayed.firings.find((at) => at >= 0);
    if (firing !== undefined) {
      return { scene, state, unlocks: true, why: `${variant.told}: ${atomsText(decidingAtoms(spec.when, replayed.parts, firing), site)}.` };
    }
    const blocking = fewestBlocking(spec.when, replayed.parts, 0, Infinity);
    if (nearest === null || blocking.length < nearest.blocking.length) nearest = { told: variant.told, blocking };
  }
  if (nearest === null) return { scene, state, unlocks: false, why: "None of the rule's sensors would notice it." };
  const stood = nearest.blocking.length === 0 ? "the condition was already true, so it did not become true again" : `in the way: ${atomsText(nearest.blocking, site)}`;
  return { scene, state, unlocks: false, why: `${nearest.told}; ${stood}.` };
}

/** The scene's first event is at instant 0. */
function play(variant: SceneVariant, rule: PreparedRule): Replay {
  const windowMs = longestWindow(rule.spec.when) + rule.spec.restMs;
  const start = -(windowMs + WATCHED_AFTER_MS);
  const end = Math.max(0, ...variant.steps.map(({ afterMs }) => afterMs)) + windowMs + WATCHED_AFTER_MS;
  const accounts = new Map(
    [...variant.before].map(([signal, before]): [string, SignalAccount] => {
      const steps = variant.steps.filter((step) => step.signal === signal).map(({ afterMs, state }) => [afterMs, state] as const);
      const timeline = timelineOf(start, end, [[start, before], ...steps]);
      return [signal, { signal, account: timeline, live: timeline, silences: [], restarts: [], readingCount: 0, flapCount: 0 }];
    }),
  );
  return replay(rule, accounts);
}

function longestWindow(part: Expression): number {
  switch (part.op) {
    case "is":
      return (part.heldMs ?? 0) + (part.recentlyMs ?? 0);
    case "turned":
      return part.withinMs;
    case "not":
      return longestWindow(part.of);
    default:
      return Math.max(0, ...part.of.map(longestWindow));
  }
}
