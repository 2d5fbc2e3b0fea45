import { fewestBlocking } from "../../../src/judge/rule/deciding-atoms.js";
import { sceneVariants, type SceneVariant } from "../../../src/judge/drills/scenes.js";
import { replay, type Replay } from "../../../src/judge/replay/replay.js";
import { longestWindowMs } from "../../../src/judge/rule/condition.js";
import type { PreparedRule } from "../../../src/judge/rule/prepare.js";
import { quietStates, scenes } from "../../../src/result/trials.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import { min } from "../small-site.js";

/**
 * The brute-force twin of hostile scenes: every way in which one may happen is replayed whole and by itself. Of each scene and quiet state
 * whether the rule unlocks in it, and if not, how few parts of its condition stood in the way.
 */
export function replayedScenes(rule: PreparedRule): { readonly scene: string; readonly state: string; readonly unlocks: boolean; readonly blocking: number | null }[] {
  const { site, spec } = rule;
  const signals = site.signals.filter(({ id }) => rule.signals.includes(id));
  return scenes.flatMap((scene) =>
    quietStates.map((state) => {
      const all = sceneVariants(scene, state, signals, site).filter(({ steps }) => steps.length > 0).map((one) => replayed(one, rule));
      const unlocks = all.some(({ firings }) => firings.some((at) => at >= 0));
      return { scene, state, unlocks, blocking: unlocks || all.length === 0 ? null : Math.min(...all.map(({ parts }) => fewestBlocking(spec.when, parts, 0, Infinity).length)) };
    }),
  );
}

function replayed({ before, steps }: SceneVariant, rule: PreparedRule): Replay {
  const around = longestWindowMs(rule.spec.when) + rule.spec.restMs + min(60);
  const end = Math.max(0, ...steps.map(({ afterMs }) => afterMs)) + around;
  const accounts = [...before].map(([signal, was]): [string, SignalAccount] => {
    const own = steps.filter((step) => step.signal === signal).map(({ afterMs, state }) => [afterMs, state] as const);
    const live = timelineOf(-around, end, [[-around, was], ...own]);
    return [signal, { signal, account: live, live, silences: [], restarts: [], readingCount: 0, flapCount: 0 }];
  });
  return replay(rule, new Map(accounts));
}
