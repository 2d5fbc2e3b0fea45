import { group, max } from "d3-array";
import { lookUp } from "../../ground/look-up.js";
import { remembered } from "../../ground/remembered.js";
import { HOUR_MS } from "../../ground/units.js";
import { type HostileCase, type QuietState, quietStates, type Scene, scenes } from "../../result/trials.js";
import type { Expression } from "../../site/expression.js";
import { timelineOf } from "../../timeline/make.js";
import type { Timeline, TruthState } from "../../timeline/timeline.js";
import { actedOn } from "../replay/acting.js";
import { atomsText } from "../replay/firing-outcomes.js";
import { atomsOf, longestWindowMs } from "../rule/condition.js";
import { decidingAtoms, fewestBlocking, type AtomState } from "../rule/deciding-atoms.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts, type Resolved } from "../rule/evaluate.js";
import { letsIn, type PreparedRule } from "../rule/prepare.js";
import { sceneVariants, type SceneStep, type SceneVariant } from "./scenes.js";

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

/** The scenes in which the rule unlocks, each with its quiet state, as one text: the cases of {@link hostileCases} without their reasons. */
export function openScenes(rule: PreparedRule): string[] {
  return [...scenesOpen(rule, new Set())];
}

/** Whether the rule unlocks in a scene that is not among some of {@link openScenes}. */
export function opensMoreThan(open: ReadonlySet<string>, rule: PreparedRule): boolean {
  return scenesOpen(rule, open).next().done === false;
}

/** The scenes in which the rule unlocks, one after another; those of `known` are not played. */
function* scenesOpen(rule: PreparedRule, known: ReadonlySet<string>): Generator<string> {
  if (!letsIn(rule.spec.act)) return;
  for (const scene of scenes) {
    for (const state of quietStates) {
      const name = `${scene}, ${state}`;
      if (!known.has(name) && isOpen(scene, state, rule)) yield name;
    }
  }
}

function isOpen(scene: Scene, state: QuietState, rule: PreparedRule): boolean {
  for (const { firing } of played(scene, state, rule)) if (firing !== undefined) return true;
  return false;
}

function caseOf(scene: Scene, state: QuietState, rule: PreparedRule): HostileCase {
  const { spec, site } = rule;
  let nearest: { readonly told: string; readonly blocking: readonly AtomState[] } | null = null;
  for (const { told, parts, firing } of played(scene, state, rule)) {
    if (firing !== undefined) {
      return { scene, state, unlocks: true, why: `${told}: ${atomsText(decidingAtoms(spec.when, parts(), firing), site)}.` };
    }
    const blocking = fewestBlocking(spec.when, parts(), 0, Infinity);
    if (nearest === null || blocking.length < nearest.blocking.length) nearest = { told, blocking };
  }
  if (nearest === null) return { scene, state, unlocks: false, why: "None of the rule's sensors would notice it." };
  const stood = nearest.blocking.length === 0 ? "the condition was already true, so it did not become true again" : `in the way: ${atomsText(nearest.blocking, site)}`;
  return { scene, state, unlocks: false, why: `${nearest.told}; ${stood}.` };
}

/** One way in which a scene happened, and the first firing of the rule in it, if any. */
interface Played extends Pick<SceneVariant, "told"> {
  /** The condition and its parts. */
  readonly parts: () => EvaluatedParts;
  readonly firing: number | undefined;
}

/**
 * Every way in which the scene may happen from the quiet state, replayed one after another; its first event is at instant 0.
 * Parts of the condition whose signals neither move nor stand otherwise than before are worked out once for all of them.
 */
function* played(scene: Scene, state: QuietState, rule: PreparedRule): Generator<Played> {
  const { spec: { when, restMs }, site } = rule;
  const own = new Set(rule.signals);
  const variants = sceneVariants(scene, state, site.signals.filter((signal) => own.has(signal.id)), site).filter((one) => one.steps.length > 0);
  const [first] = variants;
  if (first === undefined) return;
  const windowMs = longestWindowMs(when) + restMs;
  const [start, end] = [-(windowMs + WATCHED_AFTER_MS), max(variants, ({ steps }) => max(steps, ({ afterMs }) => afterMs) ?? 0) ?? 0];
  const stateOf = (before: TruthState, steps: readonly SceneStep[]): Timeline => timelineOf(start, end + windowMs + WATCHED_AFTER_MS, [[start, before], ...steps.map((one) => [one.afterMs, one.state] as const)]);
  const heard = (timeline: Timeline): Resolved => ({ timeline, barriers: [] });
  const quiet = evaluateParts(when, (signal) => heard(stateOf(lookUp(first.before, signal), [])), site.bridgeMs);
  const refsOf = remembered((part: Expression) => new Set(atomsOf(part).map(({ ref }) => ref)));
  for (const { told, before, steps } of variants) {
    const moved = group(steps, ({ signal }) => signal);
    const others = [...before].flatMap(([signal, was]) => (moved.has(signal) || was !== first.before.get(signal) ? [signal] : []));
    const known = { get: (part: Expression) => (others.some((signal) => refsOf(part).has(signal)) ? undefined : quiet.get(part)) };
    const changed = evaluateParts(when, (signal) => heard(stateOf(lookUp(before, signal), moved.get(signal) ?? [])), site.bridgeMs, known);
    yield { told, parts: () => new Map([...quiet, ...changed]), firing: actedOn(timelineOfPart(when, changed), restMs).firings.find((at) => at >= 0) };
  }
}
