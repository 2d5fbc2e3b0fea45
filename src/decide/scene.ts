import { stateNames } from "../timeline/timeline.js";
import { MINUTE_MS, SECOND_MS } from "../ground/units.js";
import { durationText } from "../ground/duration.js";
import { stateWords, stirWords } from "../site/state-words.js";
import type { Culprit } from "../result/culprit.js";
import { letsIn } from "../judge/rule/prepare.js";
import type { Scene } from "../result/decision.js";
import type { Undecided } from "../result/findings.js";
import type { Histories } from "../result/histories.js";
import { stepAt, stepsOf, type Step } from "../result/history-steps.js";
import type { RuleFinding } from "../result/rules.js";

/** One moment at which a rule failed, before it is drawn. */
export interface BadMoment {
  readonly sort: Scene["sort"];
  readonly at: number;
  readonly firing: string | null;
  /** When the rule acted all the same, of a late one. */
  readonly actedAt: number | null;
  readonly culprit: Culprit | null;
  /** Why it counts so, in words. */
  readonly why: string;
}

/** What a scene is cut from. */
export type SceneSource = Pick<Undecided, "period" | "site" | "signals"> & { readonly histories: Histories };

/** More lanes cannot be taken in at a glance. Our own choices. */
const MOST_TRUTHS = 2;
const MOST_SENSORS = 3;

/** What led to an act happened no longer before it than this. Our own choice. */
const LED_TO_MS = 15 * MINUTE_MS;
/** A cause is shown from its beginning to its end if it lasted no longer. Our own choice. */
const WHOLE_CAUSE_MS = 720 * MINUTE_MS;
/** No window is shorter. Our own choice. */
const SHORTEST_MS = 2 * MINUTE_MS;

type Line = { readonly label: string; readonly subject: string; readonly steps: readonly Step[] };

/**
 * A bad moment as lanes: what was true, what the rule's sensors said, the culprit among them, and the rule. The window is as long as
 * the event: from what led to it, or the beginning of the false report, to its end.
 */
export function sceneOf(moment: BadMoment, rule: RuleFinding, { period, site, signals, histories }: SceneSource): Scene {
  const stirs = new Set(signals.flatMap(({ signal, kind }) => (kind === "stir" ? [signal] : [])));
  const { sort, at, firing, actedAt, culprit } = moment;
  const read = (steps: string): readonly Step[] => stepsOf(steps, period.from);
  const sensors = histories.signals.filter(({ signal }) => rule.signals.includes(signal)).map(({ signal, subject, steps }): Line => ({ label: signal, subject, steps: read(steps) }));
  const truths = histories.subjects.map(({ subject, steps }): Line => ({ label: subject, subject, steps: read(steps) }));
  const blamed = culprit?.signal ?? null;
  const { from, to } = windowOf(moment, [...sensors, ...truths], period);
  const culpritSubject = sensors.find(({ label }) => label === blamed)?.subject ?? null;
  const shownTruths = firstOf(truths, MOST_TRUTHS, (one) => (one.subject === culpritSubject ? 4 : 0) + (changesIn(one, at - LED_TO_MS, at + MINUTE_MS) ? 2 : 0) + (isOn(one, at) ? (sort === "wrong" && !letsIn(rule.act) ? 3 : 1) : 0), ({ subject }) => classOf(site, subject) !== "door");
  const shownSensors = firstOf(
    sensors,
    MOST_SENSORS,
    (one) => (one.label === blamed ? 16 : 0) + (culprit?.signals.includes(one.label) === true ? 8 : 0) + (one.subject === culpritSubject ? 4 : 0) + (changesIn(one, from, to) ? 2 : 0) + (changesIn(one, at - LED_TO_MS, at + MINUTE_MS) ? 1 : 0),
    (one) => one.label === blamed || changesIn(one, from, to) || one.subject === culpritSubject,
  );
  const lane = (line: Line, role: Scene["lanes"][number]["role"]): Scene["lanes"][number] => ({ label: line.label, role, on: (stirs.has(line.label) ? stirWords : stateWords[classOf(site, line.subject)]).on, steps: within(line.steps, from, to) });
  const lanes = [
    ...shownTruths.map((one) => lane(one, "truth")),
    ...shownSensors.map((one) => lane(one, one.label === blamed ? "culprit" : "sensor")),
    { label: "the rule", role: "rule" as const, on: doneWords[rule.act].state, steps: [[from, "off"] as const, ...(actedAt === null || actedAt >= to ? [] : [[actedAt, "on"] as const])] },
  ];
  const culpritLane = lanes.findIndex(({ role }) => role === "culprit");
  return {
    sort,
    at,
    firing,
    from,
    to,
    title: titleOf(sort, rule.act),
    text: culprit?.text ?? moment.why,
    lanes,
    cause: culprit === null || culpritLane < 0 ? null : causeOf(culprit, moment, culpritLane, { from, to }, stateWords[classOf(site, culpritSubject ?? "")]),
    effect: actedAt === null ? doneWords[rule.act].stays : doneWords[rule.act].does,
  };
}

const doneWords: Readonly<Record<RuleFinding["act"], { readonly does: string; readonly stays: string; readonly state: string }>> = {
  unlock: { does: "unlocks", stays: "stays locked", state: "unlocked" },
  lock: { does: "locks", stays: "stays unlocked", state: "locked" },
  disarm: { does: "disarms", stays: "stays armed", state: "disarmed" },
  arm: { does: "arms", stays: "stays disarmed", state: "armed" },
};

function titleOf(sort: Scene["sort"], act: RuleFinding["act"]): string {
  const opens = letsIn(act);
  if (sort === "wrong") return opens ? `${act}s, and nobody came` : `${act}s, and not all had left`;
  if (sort === "unverified") return `${act}s, and nobody can tell whether it should`;
  if (sort === "late") return opens ? "somebody waits outside" : `${act}s late`;
  return opens ? "somebody is left outside" : `never ${act}s`;
}

function windowOf({ at, actedAt, culprit }: BadMoment, lines: readonly Line[], period: { readonly from: number; readonly to: number }): { readonly from: number; readonly to: number } {
  const began = culprit?.from !== undefined && culprit.from !== null && at - culprit.from <= WHOLE_CAUSE_MS ? [culprit.from] : [];
  const ended = culprit?.to !== undefined && culprit.to !== null && culprit.to - at <= LED_TO_MS ? [culprit.to] : [];
  const ledTo = began.length > 0 && (began[0] ?? at) < at ? [] : lines.flatMap(({ steps }) => steps.filter((one) => one.at >= at - LED_TO_MS && one.at <= at).map((one) => one.at));
  const instants = [at, ...(actedAt === null ? [] : [actedAt]), ...began, ...ended, ...ledTo];
  const [first, last] = [Math.min(...instants), Math.max(...instants)];
  const pad = Math.max((last - first) / 5, SHORTEST_MS / 2);
  return { from: Math.max(period.from, first - pad), to: Math.min(period.to, last + pad) };
}

function causeOf({ what, from, to, bySeconds }: Culprit, { at }: BadMoment, lane: number, window: { readonly from: number; readonly to: number }, words: { readonly on: string; readonly off: string }): Scene["cause"] {
  const begins = from ?? at;
  const length = from !== null && to !== null ? roughly(to - from) : null;
  const by = bySeconds === null ? null : roughly(bySeconds * SECOND_MS);
  const span = (a: number, b: number): { from: number; to: number } => ({ from: Math.max(window.from, Math.min(a, b)), to: Math.min(window.to, Math.max(a, b)) });
  const whole = span(begins, to ?? window.to);
  if (what === "came back") return { lane, ...whole, text: `drops out${length === null ? "" : ` for ${length}`}` };
  if (what === "silent") return { lane, ...whole, text: `says nothing${length === null ? "" : ` for ${length}`}` };
  if (what === "said the opposite") return { lane, ...whole, text: `wrong${length === null ? "" : ` for ${length}`}` };
  if (what === "too late") return { lane, ...span(at, begins), text: by === null ? "too late" : `${by} too late` };
  if (what === "held too long") return { lane, ...span(at, begins), text: by === null ? `${words.off} not long enough` : `${by} short of the time it must last` };
  if (what === "window ended") return { lane, ...whole, text: by === null ? "too early" : `${by} too early` };
  if (what === "no longer so") return { lane, ...whole, text: "it had ended before" };
  if (what === "already true" || what === "already so") return { lane, ...span(window.from, at), text: "so all along" };
  return null;
}

/** `27 min`, `17 h`: a length as one says it. */
function roughly(ms: number): string {
  if (ms >= 180 * MINUTE_MS && ms < 72 * 60 * MINUTE_MS) return `${Math.round(ms / (60 * MINUTE_MS))} h`;
  const unit = ms >= 180 * MINUTE_MS ? 60 * MINUTE_MS : ms >= 3 * MINUTE_MS ? MINUTE_MS : SECOND_MS;
  return durationText(Math.max(SECOND_MS, Math.round(ms / unit) * unit));
}

function classOf({ subjects }: Undecided["site"], subject: string): "bay" | "door" | "person" {
  return subjects.find(({ id }) => id === subject)?.class ?? "door";
}

/** The lines that score highest, in their own order. */
function firstOf(lines: readonly Line[], most: number, score: (line: Line) => number, shown: (line: Line) => boolean): Line[] {
  const chosen = new Set(lines.filter(shown).toSorted((a, b) => score(b) - score(a)).slice(0, most));
  return lines.filter((one) => chosen.has(one));
}

function changesIn({ steps }: Line, from: number, to: number): boolean {
  return steps.some(({ at }) => at > from && at <= to);
}

function isOn({ steps }: Line, at: number): boolean {
  return steps[stepAt(steps, at)]?.state === 1;
}

function within(steps: readonly Step[], from: number, to: number): Scene["lanes"][number]["steps"] {
  const first = Math.max(0, stepAt(steps, from));
  return steps.slice(first).filter(({ at }, i) => i === 0 || at < to).map(({ at, state }) => [Math.max(at, from), stateNames[state]] as const);
}
