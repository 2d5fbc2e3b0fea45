/* eslint-disable @typescript-eslint/no-non-null-assertion -- positions run within the instants tried */
import { lookUp } from "../../ground/look-up.js";
import { ofSubject } from "./by-subject.js";
import { cross } from "d3-array";
import { changeInstants } from "./courses.js";
import type { ChangePlace, SceneChange, SceneSubject, SignalLags } from "./gap.js";
import type { GapQuestion, SubjectQuestion } from "./question.js";
import { changesOf, isGap, isTruthful, withChange } from "./scene.js";
import { toldInstants } from "./told.js";

/** The most confined change of a scene besides its trigger, and how long the time is in which it may happen. */
export interface Confined {
  readonly free: ChangePlace;
  readonly widthMs: number;
}

/**
 * Moves each change but the trigger to and fro, its signals telling it within their lags, and measures the time around
 * it in which the scene stays a gap. The narrowest counts. Null where the scene has no other change, or none of them
 * has to happen at any particular time.
 */
export function confined(scene: readonly SceneSubject[], trigger: ChangePlace, question: GapQuestion, lags: SignalLags): Confined | null {
  let narrowest: Confined | null = null;
  for (const { at, told, subject, change } of changesOf(scene)) {
    if (subject === trigger.subject && change === trigger.change) continue;
    const place = { subject, change };
    const asked = ofSubject(question.subjects, subject);
    const stays = (instant: number): boolean => tellingsOf(instant, asked, lags, question.stepMs).some((other) => {
      const moved = withChange(scene, place, other);
      return isTruthful(moved, lags) && isGap(moved, trigger, question);
    });
    const instants = changeInstants(asked, told.map(({ signal }) => lookUp(lags, signal)), question.earlyMs, question.stepMs);
    const least = lastThatStays(at, instants.filter((one) => one < at).toReversed(), stays, question.stepMs);
    const most = lastThatStays(at, instants.filter((one) => one > at), stays, question.stepMs);
    if (least === null || most === null) continue;
    // A change on the last instant that stays may also happen until one step later.
    const widthMs = most - least + question.stepMs;
    if (narrowest === null || widthMs < narrowest.widthMs) narrowest = { free: place, widthMs };
  }
  return narrowest;
}

/** Goes outwards from `from` over the instants at which anything can change; null where it never ceases to be a gap. */
function lastThatStays(from: number, outwards: readonly number[], stays: (instant: number) => boolean, stepMs: number): number | null {
  const beyond = outwards.findIndex((instant) => !stays(instant));
  if (beyond < 0) return null;
  let inside = beyond === 0 ? from : outwards[beyond - 1]!;
  let outside = outwards[beyond]!;
  // Other subjects' changes may end it between two of the subject's own instants.
  while (Math.abs(outside - inside) > stepMs) {
    const middle = inside + Math.round((outside - inside) / 2 / stepMs) * stepMs;
    if (stays(middle)) inside = middle;
    else outside = middle;
  }
  return inside;
}

function tellingsOf(at: number, { signals }: SubjectQuestion, lags: SignalLags, stepMs: number): SceneChange[] {
  const choices = signals.map(({ signal, critical }) => toldInstants(at, lookUp(lags, signal), critical, stepMs).map((told) => ({ signal, at: told })));
  const all = choices.reduce<SceneChange["told"][]>((begun, next) => cross(begun, next, (told, one) => [...told, one]), [[]]);
  return all.map((told) => ({ at, told }));
}
