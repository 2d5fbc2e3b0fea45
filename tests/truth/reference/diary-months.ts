import type { DiaryEntry } from "../../../src/intake/readings.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import type { ReferenceSegment } from "../../../src/truth/reference/reference.js";
import type { SubjectClass } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { MONTH, seeded, simulateMonth } from "../../study/study-site.js";
import { accountOf, DAY, MINUTE } from "./small-witnesses.js";

export const HALF = 15 * DAY;

/** A small random month of one subject, its truth, and a diary of its first half. */
export interface DiaryMonth {
  readonly site: ReturnType<typeof simulateMonth>["site"];
  readonly accounts: ReturnType<typeof simulateMonth>["accounts"];
  readonly diary: readonly DiaryEntry[];
  readonly truth: readonly { readonly from: number; readonly to: number; readonly state: 0 | 1 }[];
}

/**
 * A subject is on for `stayMinutes` about twice a day. Each witness misreads one stretch in twenty and is late by up to `lateMinutes`; `flaps` times a month it
 * says the other state for ten seconds. The diary writes times to five minutes; `kept`: the share of stretches that somebody wrote down.
 */
export function diaryMonth(seed: number, parts: { subjectClass: SubjectClass; witnesses: number; stayMinutes: number; lateMinutes: number; flaps: number; kept: number }): DiaryMonth {
  const random = seeded(seed);
  const between = (low: number, high: number): number => Math.round(low + random() * (high - low));
  const truth: { from: number; to: number; state: 0 | 1 }[] = [];
  let [at, state] = [0, 0 as 0 | 1];
  while (at < MONTH.to) {
    const length = (state === 1 ? parts.stayMinutes : 0.5 * 24 * 60 - parts.stayMinutes) * MINUTE;
    const to = Math.min(MONTH.to, at + Math.max(MINUTE, between(0.5 * length, 1.5 * length)));
    truth.push({ from: at, to, state });
    [at, state] = [to, state === 1 ? 0 : 1];
  }
  const lines = Array.from({ length: parts.witnesses }, () => {
    const steps = truth.map(({ from, to, state: real }): [number, TruthState] => {
      const late = from === 0 ? 0 : Math.min(between(1_000, parts.lateMinutes * MINUTE), Math.floor((to - from) / 2));
      return [from + late, random() < 0.05 ? ((1 - real) as TruthState) : real];
    });
    const said = (instant: number): TruthState => steps.findLast(([from]) => from <= instant)![1];
    const flaps = Array.from({ length: parts.flaps }, () => between(0, MONTH.to - MINUTE)).flatMap((from): [number, TruthState][] => (said(from) === said(from + 10_000) ? [[from, (1 - said(from)) as TruthState], [from + 10_000, said(from)]] : []));
    const sorted = [...steps, ...flaps].sort((a, b) => a[0] - b[0]);
    return timelineOf(0, MONTH.to, sorted.filter(([from], i) => from !== sorted[i + 1]?.[0]));
  });
  const base = simulateMonth({ witnesses: parts.witnesses, shared: false, errorShare: 0, door: false }, seeded(1)).site;
  const site = { ...base, subjects: [{ id: "it", class: parts.subjectClass, vehicle: null }], signals: base.signals.map((one) => ({ ...one, subject: "it" })) };
  const rounded = (instant: number): number => Math.round(instant / (5 * MINUTE)) * 5 * MINUTE;
  // What would be shorter than five minutes is written down exactly, or the diary would be wrong.
  const written = truth.map(({ from, to }) => (to - from < 10 * MINUTE ? { from, to } : { from: rounded(from), to: rounded(to) }));
  const diary = truth.flatMap(({ to, state: real }, k) => {
    const [from, until] = [Math.max(written[k]!.from, written[k - 1]?.to ?? 0), Math.min(written[k]!.to, written[k + 1]?.from ?? MONTH.to)];
    return to > HALF || random() >= parts.kept || from >= until ? [] : [{ subject: "it", state: real, from, to: until, file: "diary.csv", line: 2 }];
  });
  return { site, accounts: new Map(lines.map((line, w) => [`w${w}`, accountOf(`w${w}`, line)])), diary, truth };
}

/** Of the second half, of which no diary speaks: the share of time known, and of that the share that is wrong. */
export function secondHalf({ site, accounts, truth }: DiaryMonth, diary: readonly DiaryEntry[]): { known: number; wrong: number } {
  const { segments } = makeReferenceBook(site, accounts, diary, MONTH)("it", []);
  const within = (one: ReferenceSegment, other: { from: number; to: number }): number => Math.max(0, Math.min(one.to, other.to) - Math.max(one.from, other.from, HALF));
  const known = segments.filter((one) => one.state !== 2).reduce((sum, one) => sum + within(one, MONTH), 0);
  const wrong = segments.filter((one) => one.state !== 2).reduce((sum, one) => sum + truth.filter(({ state }) => state !== one.state).reduce((inner, real) => inner + within(one, real), 0), 0);
  return { known: known / (MONTH.to - HALF), wrong: known === 0 ? 0 : wrong / known };
}
