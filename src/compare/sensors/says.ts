import { HOUR_MS, SECOND_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import type { Findings } from "../../result/findings.js";
import type { LagQuantiles } from "../../result/signals.js";
import type { ReadText } from "../../judge/culprit/words.js";
import { dateText, lengthText, stretchText } from "../../judge/culprit/words.js";
import { figureText, timesInWords } from "../../judge/rule/words.js";
import { writtenIn } from "../../site/length.js";
import type { SignalSpec, Site } from "../../site/site.js";
import { OFF, ON, type TruthState, UNKNOWN } from "../../timeline/timeline.js";
import type { Reference } from "../../truth/reference/reference.js";
import { DISPUTED, isAbout } from "./judged.js";
import { sensorWords } from "./words.js";

/** What the sentences about one sensor are made from. */
export interface SaysInput {
  readonly site: Pick<Site, "timeZone">;
  readonly spec: SignalSpec;
  readonly score: Findings["signals"][number];
  readonly worst: (Interval & { readonly said: TruthState; readonly truth: TruthState }) | null;
  readonly without: Reference;
  readonly findings: Pick<Findings, "mend" | "bands" | "disagreements">;
  readonly read: ReadText;
}

/** More rules would be a list. */
const MOST_RULES = 2;
/** At both ends of a stretch, readings of before and after may still stand while the sensor settles. */
const EDGE_SHARE = 0.1;

/** Its worst stretch, how late it usually is, its band, and what it cost which rule: a sentence each, where there is something to say. */
export function saysOf(input: SaysInput): string[] {
  const { score, findings } = input;
  const costs = findings.mend.filter((one) => isAbout(one, score.signal)).flatMap(({ rules }) => rules);
  return [
    ...worstText(input),
    ...disputeText(score.signal, findings),
    ...lagText(score),
    ...bandText(input),
    ...costs.slice(0, MOST_RULES).map(({ rule, did }) => `For “${rule}”: ${did.join("; ")}.`),
  ];
}

function worstText({ worst, site, spec, score, without, read }: SaysInput): string[] {
  if (worst === null) return [];
  const { from, to, said, truth } = worst;
  const day = dateText(from, site);
  const words = sensorWords[score.subjectClass];
  const when = stretchText(from, to, site);
  if (said === UNKNOWN) return [`Worst on ${day}: nothing was heard of it ${when}.`];
  const word = said === ON ? words.on : words.off;
  const reading = read(spec.id, from + EDGE_SHARE * (to - from), to - EDGE_SHARE * (to - from));
  const other = truth === ON ? words.on : truth === OFF ? words.off : null;
  const basis = without.segments.find((one) => one.from <= (from + to) / 2 && one.to > (from + to) / 2);
  const whose = { diary: "your diary", several: "the other sensors", one: basis?.vouchers.join(", ") ?? "", none: "all sensors together" }[basis?.basis ?? "none"];
  const against = other === null || whose === "" ? "" : `; ${whose} said “${other}”`;
  return [`Worst on ${day}: it said “${word}”${reading === null ? "" : ` (${reading})`} ${when}${against}.`];
}

/** What both of two sensors are told that differ while nobody else can tell which is wrong. */
function disputeText(signal: string, { disagreements }: SaysInput["findings"]): string[] {
  return disagreements.flatMap(({ pairs }) =>
    pairs.filter(({ signals, count }) => count >= DISPUTED && (signals as readonly string[]).includes(signal)).map(({ signals, count, hours }) => {
      const other = signals.find((one) => one !== signal) ?? "";
      return `It and ${other} differed ${timesInWords(count)}, ${lengthText(hours * HOUR_MS)} in all, while nobody else could tell which was wrong.`;
    }),
  );
}

function lagText({ lagOn, lagOff, subjectClass }: SaysInput["score"]): string[] {
  const usual = ({ median, p90 }: LagQuantiles): string | null => {
    if (median.value === null) return null;
    if (Math.abs(median.value) < 1) return "on time";
    const late = `${lengthText(Math.abs(median.value) * SECOND_MS)} ${median.value < 0 ? "early" : "late"}`;
    return p90.value === null || p90.value <= median.value || p90.value < 1 ? late : `${late}, nine times in ten within ${lengthText(p90.value * SECOND_MS)}`;
  };
  const [on, off] = [usual(lagOn), usual(lagOff)];
  const words = sensorWords[subjectClass];
  if (on === null || off === null) return on === null ? [] : [`Usually ${words.turnsOn} ${on}.`];
  const near = Math.abs((lagOn.median.value ?? 0) - (lagOff.median.value ?? 0)) * 4 <= Math.abs(lagOn.median.value ?? 0);
  return [near ? `Usually ${on}.` : `Usually ${words.turnsOn} ${on}; ${words.turnsOff} ${off}.`];
}

function bandText({ spec, findings: { bands } }: SaysInput): string[] {
  if (spec.reading.form !== "distance" || spec.band === null) return [];
  const { unit } = spec.reading;
  const inUnit = writtenIn(unit);
  const written = (metres: number): string => figureText(inUnit(metres));
  const { nearMetres, farMetres } = spec.band;
  const advice = bands.find(({ signal }) => signal === spec.id);
  const far = Number.isFinite(farMetres) ? `${written(nearMetres)} to ${written(farMetres)} ${unit}` : `${written(nearMetres)} ${unit} on`;
  const better = advice?.presentHolds === false && advice.suggested !== null ? `; its readings ask for \`${advice.suggested.written}\`` : "";
  return [`A vehicle counts from ${far}${better}.`];
}
