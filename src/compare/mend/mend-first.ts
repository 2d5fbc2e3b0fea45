import { ascending, descending, greatest, group, sum } from "d3-array";
import { dateText } from "../../judge/culprit/words.js";
import { DAYS_PER_MONTH, SECOND_MS } from "../../ground/units.js";
import { actNouns, countText, figureText, listText, percentText, timesText } from "../../judge/rule/words.js";
import type { Mend, MendEffect } from "../../result/mend.js";
import type { RuleFinding } from "../../result/rules.js";
import { blamedEvents, doubtfulEvents, expectedEvents, nearEvents, pairEvents, saidTogether, silenceEvents } from "./events.js";
import type { Harm, MendEvent, MendInput, Owner } from "./events.js";

/** Points of one event; see the schema of the list. Our own choice. */
const POINTS: Readonly<Record<Harm, number>> = { wrong: 10, expected: 10, maybeWrong: 3, unjudged: 3, failed: 1, nearly: 0.1 };

/**
 * What to mend, the gravest first by what it did to the rules in a month: clocks that are off, shared causes that took
 * several signals down, bands, single signals, and pairs of which one is wrong. What a clock explains is put down to it
 * and to no sensor. What did nothing to any rule is not listed.
 */
export function mendFirst(input: MendInput): Mend[] {
  const judged = { ...input, rules: input.rules.filter(({ name }) => !input.clockFaults.some(({ blocked }) => blocked.includes(name))) };
  const events = [
    ...[blamedEvents, silenceEvents].flatMap((find) => find(input)),
    ...[doubtfulEvents, pairEvents, nearEvents, expectedEvents].flatMap((find) => find(judged)),
  ];
  return [...group(events, ({ owner: { sort, key } }) => `${sort} ${key}`).values()]
    .flatMap((own) => {
      const owner = own[0]?.owner;
      return owner === undefined ? [] : [mendOf(owner, own, input)];
    })
    .sort((a, b) => descending(a.weight, b.weight) || ascending(a.target, b.target));
}

function mendOf(owner: Owner, own: readonly MendEvent[], input: MendInput): Mend {
  const rules = [...group(own, ({ rule }) => rule).entries()].map(([rule, of]) => effectOf(rule, of));
  const points = sum(own, ({ harm, times }) => POINTS[harm] * times);
  const weight = Math.round((points * DAYS_PER_MONTH * 100) / input.period.days) / 100;
  const said = saidOf(owner, own, input);
  return { target: owner.key, ...said, why: [said.why, worstText(own, input)].filter(Boolean).join(" "), rules, weight };
}

function effectOf(rule: RuleFinding, own: readonly MendEvent[]): MendEffect {
  const times = (harm: Harm): number => sum(own, (one) => (one.harm === harm ? one.times : 0));
  const [unjudged, nearly, expected] = [times("unjudged"), times("nearly"), times("expected")];
  const counts = { wrong: times("wrong"), maybeWrong: times("maybeWrong"), failed: times("failed"), unjudged, nearly, expected };
  return { rule: rule.name, ...counts, did: didTexts(counts, own, rule) };
}

function didTexts(counts: Readonly<Record<Harm, number>>, own: readonly MendEvent[], rule: RuleFinding): string[] {
  const { firings, wanted, evidence, wrongPerYear } = rule;
  const { one, many } = actNouns[rule.act];
  const share = (count: number, all: number, what: (noun: string) => string): string[] =>
    count === 0 ? [] : [all === 1 ? `the only ${what(one)}` : `${count} of ${all} ${what(many)}`];
  const unjudged = own.some(({ owner }) => owner.sort === "clock")
    ? `none of its ${countText(firings.count, one, many)} can be judged`
    : `nothing can be said about ${percentText(evidence.blindShare, "down")} of the time`;
  const accepted = figureText(wrongPerYear.limit ?? 0);
  return [
    ...(counts.unjudged === 0 ? [] : [unjudged]),
    ...share(counts.wrong, firings.wrong, (noun) => `wrong ${noun}`),
    ...share(counts.failed, wanted.late + wanted.missed, (noun) => `missed or late ${noun}`),
    ...share(counts.maybeWrong, firings.unverified, (noun) => `${noun} that nobody could check`),
    ...(counts.expected === 0 ? [] : [`it is wrong often enough for more wrong ${many} than the ${accepted} a year that you accept`]),
    ...(counts.nearly === 0 ? [] : [`another sensor alone prevented a wrong ${one} ${timesText(counts.nearly)}`]),
  ];
}

function saidOf(owner: Owner, own: readonly MendEvent[], input: MendInput): Pick<Mend, "what" | "text" | "why"> {
  switch (owner.sort) {
    case "clock": {
      const fault = input.clockFaults.find(({ target }) => target === owner.key);
      return { what: "clock", text: fault?.text ?? "", why: fault?.why ?? "" };
    }
    case "cause":
      return { what: "cause", ...causeText(owner.key, own, input) };
    case "pair":
      return { what: "pair", ...pairText(owner.key, input) };
    case "subject":
      return { what: "subject", ...subjectText(owner.key, own, input) };
    case "signal":
      return signalText(owner.key, own, input);
  }
}

function causeText(cause: string, own: readonly MendEvent[], { site, signals, restarts }: MendInput): Pick<Mend, "text" | "why"> {
  const members = site.sharedCauses.find((one) => one.cause === cause)?.signals ?? [];
  const ownRestarts = members.flatMap((signal) => (restarts.get(signal) ?? []).filter((one) => one.cause === cause));
  const times = new Set(ownRestarts.map(({ from }) => from)).size;
  // A silence that keeps a rule from being judged has no culprit.
  if (times > 0 && own.some(({ culprit }) => culprit !== null)) {
    return { text: `Find out why ${cause} restarts.`, why: `All its sensors fell silent together ${timesText(times)}.` };
  }
  const named = [...new Set(own.flatMap(({ culprit }) => (culprit?.signal == null ? [] : [culprit.signal, ...culprit.signals])))].sort();
  if (named.length > 0) return { text: `Look at ${cause}: sensors that depend on it were wrong at the same time.`, why: `${listText(named)} share it.` };
  const deaf = signals.filter(({ signal, knownShare }) => members.includes(signal) && knownShare < 1);
  const why = deaf.map(({ signal, knownShare }) => `${signal} was unknown for ${percentText(1 - knownShare, "down")} of the time.`);
  return { text: `Find out why ${cause} was silent.`, why: why.join(" ") };
}

function pairText(key: string, { disagreements }: MendInput): Pick<Mend, "text" | "why"> {
  const pair = disagreements.flatMap(({ pairs }) => pairs).find(({ signals }) => signals.join(", ") === key);
  return {
    text: `Watch ${key.replace(", ", " and ")} for a while: one of the two is wrong, and nobody can tell which.`,
    why: pair === undefined ? "" : `They contradicted each other ${timesText(pair.count)} while no other sensor could tell.`,
  };
}

function subjectText(bay: string, own: readonly MendEvent[], input: MendInput): Pick<Mend, "text" | "why"> {
  const saw = new Set(own.flatMap(({ culprit }) => (culprit?.signal == null ? [] : [culprit.signal, ...saidTogether(culprit, input).map(({ signal }) => signal)])));
  return {
    text: `Find out what stood in ${bay}.`,
    why: `${listText([...saw].sort())} saw it at the same time, so they are hardly broken. If it was your own vehicle, correct the diary; if it was not, let the rule ask for a person's device too.`,
  };
}

/** A band is the fault if with the band that is advised most of the false reports would have been right. */
function signalText(signal: string, own: readonly MendEvent[], input: MendInput): Pick<Mend, "what" | "text" | "why"> {
  const why = input.signals.filter((one) => one.signal === signal).map((one) => whyText(one, input)).join("");
  const band = input.bands.find((one) => one.signal === signal);
  const told = own.flatMap(({ culprit, at }) =>
    at === null ? [] : [{ from: culprit?.from ?? at, to: Math.max(culprit?.to ?? at, at) + 1 }],
  );
  const mended = told.filter((stretch) => input.bandWouldMend(signal, stretch)).length;
  return band?.presentHolds === false && band.suggested !== null && 2 * mended > told.length
    ? { what: "band", text: `Move the band of ${signal}: write “${band.suggested.written}”.`, why }
    : { what: "signal", text: `Mend ${signal}.`, why };
}

function whyText({ signal, agreement, transitions, silences }: MendInput["signals"][number], { changes, site }: MendInput): string {
  const faults = [
    ...(transitions.phantom === 0 ? [] : [`gave ${countText(transitions.phantom, "false report", "false reports")}`]),
    ...(transitions.missed === 0 ? [] : [`missed ${countText(transitions.missed, "change", "changes")}`]),
    ...(silences.count === 0 ? [] : [`fell silent ${timesText(silences.count)}`]),
  ];
  return [
    ...(faults.length === 0 ? [] : [`It ${listText(faults)}.`]),
    ...(agreement.value === null ? [] : [`It agrees with what most likely happened ${percentText(agreement.value, "down")} of the time.`]),
    ...changes.flatMap((one) => (one.signal === signal && one.changed && one.since !== null ? [`Its ${one.what} changed on ${dateText(one.since, site)}.`] : [])),
  ].join(" ");
}

/** The one event that lasted longest, with its day. */
function worstText(own: readonly MendEvent[], { site }: MendInput): string {
  const lasted = own.flatMap(({ at, culprit, owner }) => {
    if (at === null || culprit === null || owner.sort === "clock") return [];
    const { from, to, bySeconds, text } = culprit;
    return [{ at, text, ms: from !== null && to !== null ? to - from : (bySeconds ?? 0) * SECOND_MS }];
  });
  const worst = greatest(lasted, (a, b) => ascending(a.ms, b.ms) || descending(a.at, b.at));
  return worst === undefined ? "" : `Worst on ${dateText(worst.at, site)}: ${worst.text}`;
}
