import { SECOND, type Span, type Step } from "./world.js";

/** Exports hold whole seconds. */
export function wholeSecond(at: number): number {
  return Math.round(at / SECOND) * SECOND;
}

/** What a sensor says that follows `on` with a lag of its own at every turn; `missed` stretches it does not see at all. */
export function following(world: Span, on: readonly Span[], lag: (to: 0 | 1) => number, missed: (stretch: Span) => boolean = () => false): Step[] {
  const steps: Step[] = [{ at: world.from, says: 0 }];
  for (const stretch of on) {
    if (missed(stretch)) continue;
    if (stretch.from <= world.from) steps[0] = { at: world.from, says: 1 };
    else steps.push({ at: wholeSecond(stretch.from + lag(1)), says: 1 });
    if (stretch.to < world.to) steps.push({ at: wholeSecond(stretch.to + lag(0)), says: 0 });
  }
  return tidy(steps.filter((step) => step.at < world.to));
}

/** The same steps with `says` in place of whatever was said in the stretch. */
export function overlaid(steps: readonly Step[], stretch: Span, says: Step["says"]): Step[] {
  const from = Math.max(wholeSecond(stretch.from), steps[0]!.at);
  const to = wholeSecond(stretch.to);
  if (to <= from) return [...steps];
  const before = steps.filter((step) => step.at < from);
  const after = steps.filter((step) => step.at > to);
  return tidy([...before, { at: from, says }, { at: to, says: saidAt(steps, to) }, ...after]);
}

/** What was said at that instant; nothing before the first step. */
export function saidAt(steps: readonly Step[], at: number): Step["says"] {
  return steps.findLast((step) => step.at <= at)?.says ?? 2;
}

/** In order, of several at one instant the last, without steps that change nothing. */
function tidy(steps: readonly Step[]): Step[] {
  const kept: Step[] = [];
  for (const step of steps.toSorted((a, b) => a.at - b.at)) {
    if (kept.at(-1)?.at === step.at) kept.pop();
    if (kept.at(-1)?.says !== step.says) kept.push(step);
  }
  return kept;
}
