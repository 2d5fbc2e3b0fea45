import { ascending, descending, max } from "d3-array";
import { HOUR_MS } from "../../ground/units.js";
import { type Interval, totalMs } from "../../ground/intervals.js";
import type { Readings } from "../../intake/readings.js";
import { readingText } from "../../judge/culprit/reading-text.js";
import type { Findings } from "../../result/findings.js";
import type { SensorFinding, WorstStretch } from "../../result/sensors.js";
import type { Site } from "../../site/site.js";
import { durations } from "../../timeline/durations.js";
import { restrict } from "../../timeline/restrict.js";
import { OFF, ON, stateNames, type Timeline, type TruthState, UNKNOWN } from "../../timeline/timeline.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { isAbout, judgedSensor, type Judged, type JudgedInput } from "./judged.js";
import { type HeardSignal, twinPicture } from "./picture.js";
import { saysOf } from "./says.js";
import { keptStretches, type When, whenOf } from "./when.js";
import { aboutText, sensorWords } from "./words.js";

/** What the list of sensors is made from. */
export interface SensorsInput {
  readonly site: Site;
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  readonly readings: ReadonlyMap<string, Readings>;
  readonly book: ReferenceBook;
  readonly findings: Pick<Findings, "period" | "signals" | "mend" | "phantoms" | "bands" | "changes" | "disagreements" | "exports">;
  /** Whether a signal would have said the opposite with the band that is advised for it. */
  readonly bandWouldMend: JudgedInput["bandWouldMend"];
}

/** Pictures that are kept, of the sensors that come first: a page cannot use more. Our own choice. */
const MOST_PICTURES = 4;

const places = { mend: 0, look: 1, fine: 2 } as const;

interface Seen {
  readonly score: Findings["signals"][number];
  readonly judged: Judged;
  readonly when: When;
  readonly worst: Worst | null;
  readonly weight: number;
}

type Worst = Interval & { readonly said: TruthState; readonly truth: TruthState };

/**
 * Every signal with its state, why, and when it differed from what most likely happened or was silent. Those to mend come
 * first, in the order of the mending list, then those to look at, the longest wrong first, then the fine ones in the
 * order of the site. Of the first few there is a picture of the worst stretch, with another signal of the same subject.
 */
export function sensorsOf(input: SensorsInput): SensorFinding[] {
  const { findings, accounts, book, bandWouldMend } = input;
  const seen = findings.signals.flatMap((score): Seen[] => {
    const account = accounts.get(score.signal);
    if (account === undefined) return [];
    const likely = book(score.subject, []).timeline;
    const when = whenOf(account, likely, book(score.subject, [score.signal]));
    const judged = judgedSensor({ score, when, findings, bandWouldMend });
    const weight = max(findings.mend, (one) => (isAbout(one, score.signal) ? one.weight : 0)) ?? 0;
    return [{ score, judged, when, weight, worst: judged.state === "fine" ? null : worstOf(judged, when, likely, findings.phantoms.filter(({ signal }) => signal === score.signal)) }];
  });
  const ordered = seen.toSorted(
    (a, b) =>
      ascending(places[a.judged.state], places[b.judged.state]) ||
      descending(a.weight, b.weight) ||
      (a.judged.state === "fine" ? 0 : descending(totalMs(a.when.differed), totalMs(b.when.differed))),
  );
  const pictured = new Set(ordered.filter(({ worst }) => worst !== null).slice(0, MOST_PICTURES));
  return ordered.map((one) => findingOf(one, pictured.has(one), input));
}

function findingOf({ score, judged, when, worst }: Seen, isPictured: boolean, input: SensorsInput): SensorFinding {
  const { site, book, findings, readings } = input;
  const kept = (all: readonly Interval[]): [number, number][] => keptStretches(all, findings.period.from);
  const heard = heardOf(score.signal, input);
  const likely = book(score.subject, []).timeline;
  const { on, off } = sensorWords[score.subjectClass];
  return {
    signal: score.signal,
    subject: score.subject,
    ...judged,
    says: heard === null ? [] : saysOf({ site, spec: heard.spec, score, worst, without: book(score.subject, [score.signal]), findings, read: readingText(site, readings) }),
    differed: { count: when.differed.length, hours: totalMs(when.differed) / HOUR_MS, longestHours: (max(when.differed, lengthOf) ?? 0) / HOUR_MS },
    stretches: { differed: kept(when.differed), silent: kept(when.silent), unchecked: kept(when.unchecked) },
    worst: worst === null ? null : {
      from: worst.from,
      to: worst.to,
      said: stateNames[worst.said],
      truth: stateNames[worst.truth],
      ...worstWords(worst, score),
      picture: isPictured && heard !== null ? twinPicture(worst, { own: heard, twin: twinOf(score, input), likely, words: { on, off } }) : null,
    },
  };
}

/** The longest stretch of what is said against the sensor: of silence or of a false report where that is it, else of differing. */
function worstOf({ fault }: Judged, when: When, likely: Timeline, falseReports: readonly Interval[]): Worst | null {
  const longest = <One extends Interval>(all: readonly One[]): One | null => all.toSorted((a, b) => descending(lengthOf(a), lengthOf(b)))[0] ?? null;
  const isFalse = (one: Interval): boolean => falseReports.some(({ from, to }) => from < one.to && to > one.from);
  const differing = (fault === "false reports" ? longest(when.differed.filter(isFalse)) : null) ?? longest(when.differed);
  const silent = longest(when.silent);
  if (differing !== null && fault !== "silent") return { from: differing.from, to: differing.to, said: differing.said, truth: differing.said === ON ? OFF : ON };
  if (silent === null) return null;
  return { from: silent.from, to: silent.to, said: UNKNOWN, truth: mostly(likely, silent) };
}

function mostly(timeline: Timeline, { from, to }: Interval): TruthState {
  const { onMs, offMs } = durations(restrict(timeline, from, to));
  return onMs >= offMs ? (onMs > 0 ? ON : UNKNOWN) : OFF;
}

function worstWords({ from, to, said }: Worst, { subjectClass }: Seen["score"]): Pick<WorstStretch, "text" | "short"> {
  const length = aboutText(to - from);
  if (said === UNKNOWN) return { text: `nothing heard for ${length}`, short: `silent, for ${length}` };
  const words = sensorWords[subjectClass];
  return { text: `says “${said === ON ? words.on : words.off}” for ${length}`, short: `${said === ON ? words.on : words.offShort}, for ${length}` };
}

/** The signal of the same subject to set beside it: of the same kind if there is one, the one that agrees best. */
function twinOf({ signal, subject, kind }: Seen["score"], input: SensorsInput): HeardSignal | null {
  const others = input.findings.signals.filter((one) => one.subject === subject && one.signal !== signal);
  const [best] = others.toSorted(
    (a, b) => descending(Number(a.kind === kind), Number(b.kind === kind)) || descending(a.agreement.value ?? 0, b.agreement.value ?? 0),
  );
  return best === undefined ? null : heardOf(best.signal, input);
}

function heardOf(signal: string, { site, accounts, readings, findings }: SensorsInput): HeardSignal | null {
  const [spec, account] = [site.signals.find(({ id }) => id === signal), accounts.get(signal)];
  if (spec === undefined || account === undefined) return null;
  return { spec, account, readings: readings.get(signal), advice: findings.bands.find((one) => one.signal === signal) };
}

function lengthOf({ from, to }: Interval): number {
  return to - from;
}
