import { ascending, descending } from "d3-array";
import { MINUTE_MS } from "../../ground/units.js";
import { actNouns, countText, percentText } from "../../judge/rule/words.js";
import type { Culprit } from "../../result/culprit.js";
import type { Findings } from "../../result/findings.js";
import type { Mend } from "../../result/mend.js";
import type { RuleFinding } from "../../result/rules.js";

/** What the list is made from. */
export type MendInput = Pick<Findings, "site" | "signals" | "bands" | "clocks" | "phantoms" | "rules">;

/** What a sensor did, as against a rule that asks too much or too little: only this is mended at a sensor. */
const SENSORS_FAULT: ReadonlySet<Culprit["what"]> = new Set<Culprit["what"]>(["said the opposite", "silent", "already so", "came back", "too late"]);
/** One late report is no fault: a sensor is listed from this many wanted instants that it only told late. Our own choice. */
const LEAST_LATE = 3;
/** A firing this close to the beginning of a false report may be its doing. Our own choice. */
const NEAR_MS = 10 * MINUTE_MS;
/** What a wrong firing, one that may be, and a wanted instant that failed weigh; a clock that blocks a rule spoils everything. Our own choice. */
const WEIGHTS = { wrong: 10, maybeWrong: 3, failed: 1, clock: 1_000 } as const;

/** What a signal did to a rule. */
type Effect = Mend["rules"][number];

/**
 * What to mend, the gravest first by what it did to the rules. A clock that puts two sources too far apart; a band that
 * misses where the readings lie; a shared cause whose restarts silenced its signals; and every other signal to which wrong
 * firings or failed wanted instants are put down. What did nothing to any rule is not listed.
 */
export function mendFirst(input: MendInput): Mend[] {
  const clocks = clockMends(input);
  const blamed = input.signals.map(({ signal }) => ({ signal, effects: effectsOf(signal, input) })).filter(({ effects }) => effects.length > 0);
  const causes = causeMends(input, blamed);
  const taken = new Set(causes.flatMap(({ signals }) => signals));
  const signals = blamed.filter(({ signal }) => !taken.has(signal)).map((one) => signalMend(one.signal, one.effects, input));
  return [...clocks, ...causes.map(({ mend }) => mend), ...signals].sort((a, b) => descending(a.weight, b.weight) || ascending(a.target, b.target));
}

function clockMends({ clocks, rules }: MendInput): Mend[] {
  return clocks.flatMap((clock): Mend[] => {
    const { suggestion, offset, strained, first, second } = clock;
    // A rule that cannot be judged says so with both sources by name.
    const blocked = rules.flatMap(({ name, reasons }) =>
      reasons.filter(({ code, text }) => code === "clock-offset" && text.includes(first) && text.includes(second)).map(() => ({ rule: name, ...noEffect, text: "It cannot be judged, as nothing that one source says can be held against the other." })),
    );
    const eaten = strained.map(({ rule, text }) => ({ rule, ...noEffect, text })).filter(({ rule }) => !blocked.some((one) => one.rule === rule));
    // A strained window alone does not tell whether it is the clock.
    const touched = suggestion === null ? blocked : [...blocked, ...eaten];
    if (touched.length === 0) return [];
    const text = suggestion === null ? `Compare the clocks and time zones of ${first} and ${second}.` : `Set the clock of ${suggestion.source} right, or write \`clock_correction: ${suggestion.clockCorrection}\` under it.`;
    const why = `The stamps of ${second} are ${Math.round(Math.abs(offset.value ?? 0))} s ${(offset.value ?? 0) >= 0 ? "later" : "earlier"} than those of ${first}, by ${offset.count} changes that both saw.`;
    return [{ what: "clock", target: suggestion?.source ?? second, text, why, rules: touched, weight: WEIGHTS.clock * touched.length }];
  });
}

const noEffect = { wrong: 0, maybeWrong: 0, failed: 0 } as const;

/** Of each rule that reads the signal: what went wrong by it. */
function effectsOf(signal: string, { rules, phantoms }: MendInput): Effect[] {
  const falseReports = phantoms.filter((one) => one.signal === signal);
  return rules.flatMap((rule): Effect[] => {
    // With clocks too far apart every sensor seems to fail: nothing is put down to one.
    if (!rule.signals.includes(signal) || rule.reasons.some(({ code }) => code === "clock-offset")) return [];
    const blames = (culprit: Culprit | null): boolean => culprit?.signal === signal && SENSORS_FAULT.has(culprit.what);
    const wrong = rule.firingList.filter(({ culprit }) => blames(culprit)).length;
    const maybeWrong = rule.firingList.filter(({ at, outcome }) => outcome === "unverified" && falseReports.some(({ from }) => at >= from && at - from <= NEAR_MS)).length;
    const failures = rule.wantedList.filter(({ culprit }) => blames(culprit));
    const late = failures.filter(({ culprit }) => culprit?.what === "too late").length;
    const failed = failures.length - (late < LEAST_LATE ? late : 0);
    return wrong + maybeWrong + failed === 0 ? [] : [{ rule: rule.name, wrong, maybeWrong, failed, text: effectText({ wrong, maybeWrong, failed }, rule) }];
  });
}

function effectText({ wrong, maybeWrong, failed }: Pick<Effect, "wrong" | "maybeWrong" | "failed">, { act }: RuleFinding): string {
  const { one, many } = actNouns[act];
  const said = [
    ...(wrong === 0 ? [] : [countText(wrong, `wrong ${one}`, `wrong ${many}`)]),
    ...(maybeWrong === 0 ? [] : [countText(maybeWrong, `${one} that may be wrong`, `${many} that may be wrong`)]),
    ...(failed === 0 ? [] : [countText(failed, `${one} missed or late`, `${many} missed or late`)]),
  ];
  return `Because of it: ${said.join(", ")}.`;
}

function weightOf(effects: readonly Effect[]): number {
  return effects.reduce((sum, { wrong, maybeWrong, failed }) => sum + WEIGHTS.wrong * wrong + WEIGHTS.maybeWrong * maybeWrong + WEIGHTS.failed * failed, 0);
}

interface Blamed {
  readonly signal: string;
  readonly effects: readonly Effect[];
}

/** Causes that restarted, where two or more of their signals failed a rule, and each only by silence. */
function causeMends(input: MendInput, blamed: readonly Blamed[]): { readonly mend: Mend; readonly signals: readonly string[] }[] {
  const restarts = new Map(input.signals.map((one) => [one.signal, one.restarts]));
  const whats = (signal: string): Culprit["what"][] =>
    input.rules.flatMap(({ wantedList, firingList }) => [...wantedList, ...firingList]).flatMap(({ culprit }) => (culprit?.signal === signal ? [culprit.what] : []));
  return input.site.sharedCauses.flatMap(({ cause, signals }) => {
    const silenced = blamed.filter(({ signal }) => signals.includes(signal) && (restarts.get(signal) ?? 0) > 0 && whats(signal).every((what) => what === "silent"));
    if (silenced.length < 2) return [];
    const effects = silenced.flatMap((one) => one.effects);
    const names = silenced.map(({ signal }) => signal);
    const count = Math.max(...names.map((signal) => restarts.get(signal) ?? 0));
    return [{ signals: names, mend: { what: "cause", target: cause, text: `Ask why ${cause} restarts.`, why: `It went silent as a whole ${countText(count, "time", "times")}, and ${names.join(", ")} with it.`, rules: effects, weight: weightOf(effects) } }];
  });
}

function signalMend(signal: string, effects: readonly Effect[], { signals, bands }: MendInput): Mend {
  const weight = weightOf(effects);
  const band = bands.find((one) => one.signal === signal);
  const why = signals.filter((one) => one.signal === signal).map(whyText).join("");
  if (band?.presentHolds === false && band.suggested !== null) {
    return { what: "band", target: signal, text: `Move the band of ${signal}: write \`present: ${band.suggested.written}\`.`, why, rules: [...effects], weight };
  }
  return { what: "signal", target: signal, text: `Mend ${signal}.`, why, rules: [...effects], weight };
}

function whyText({ agreement, transitions, silences }: MendInput["signals"][number]): string {
  const said = [
    ...(agreement.value === null ? [] : [`agrees ${percentText(agreement.value, "down")} of the time`]),
    ...(transitions.phantom === 0 ? [] : [countText(transitions.phantom, "false report", "false reports")]),
    ...(transitions.missed === 0 ? [] : [countText(transitions.missed, "change missed", "changes missed")]),
    ...(silences.count === 0 ? [] : [countText(silences.count, "silence", "silences")]),
  ];
  return said.length === 0 ? "Nothing but this tells against it." : `It ${said.join("; ")}.`.replace(/^It (?!agrees)/, "Seen: ");
}
