import { findingsSchema, type Findings } from "./findings.js";
import { DAY_MS } from "../ground/units.js";
import { gridClock, NEUTRAL_MADE, type GridClock } from "./redact-clock.js";
import { proseInDays } from "./redact-days.js";
import { redactedLedger } from "./redact-ledger.js";
import { nameReplacer, replacements } from "./redact-names.js";
import { makeCoversRedacted, roughNumber } from "./redact-numbers.js";
import { instantsOfSensors, sensorsOnGrid, silencesOnGrid, splitOnGrid } from "./redact-sensors.js";
import { withTexts } from "./visit-texts.js";

/** The zone of a redacted result: its times are the site's own, but where that is is not told. */
const NO_ZONE = "UTC";

/** The first note of a redacted result. */
export const WHAT_STILL_SHOWS =
  "Made for sharing. It still shows: times of day, lengths of time, how many days there are, and on which of them things went alike, so a weekly routine shows though no weekday is named; the kinds of sensors and their units of length; and what the site file says in words of its own. " +
  "Amounts of time, rates and counts of rows are rounded. Left out: when it was made, earlier results, how an ordinary weekday and weekend go, the first and last reading of each file.";

/**
 * The findings without names, places and dates, for sharing with someone who helps. A pure function; the same findings
 * give the same result.
 *
 * Replaced, the same everywhere and within sentences too: the site, its zone, subjects, vehicles, signals, models, shared
 * causes, rules and their digests, sources, files, the site file in the commands to run next. Instants become days of the period with the site's local time of day
 * ({@link gridClock}). Left out: the histories, earlier months, the typical day (it counts weekdays and weekends), when false reports came by day and clock, when it was made. Rounded: what would tell an
 * hour more or less ({@link roughNumber}, {@link redactedLedger}). Kept, and still telling: {@link WHAT_STILL_SHOWS}.
 *
 * It goes by the schema: texts of a fixed list stay as they are, instants are moved, every other text is searched for
 * names and dates. Whatever is added to the findings is searched as well.
 */
export function redactFindings(findings: Findings): Findings {
  const { period } = findings;
  const named = (findings.exports ?? []).filter(({ kind }) => kind === "renamed");
  const telling = new Set(named.map(({ text, ask }) => `${text} ${ask}`));
  const shared = { ...findings, ...exportsShared(findings), months: null, histories: null, ledger: redactedLedger(findings.ledger), notes: findings.notes.filter((note) => !ofClockChange.test(note) && !telling.has(note)) };
  const told = instantsOfSensors(findings);
  withTexts(findingsSchema, { ...shared, made: null }, { text: (text) => text, instant: (instant) => (told.push(instant), instant) });
  const clock = gridClock(told, period.from, findings.site.timeZone);
  const inDays = proseInDays({ clock, periodTo: period.to, told });
  const rename = nameReplacer(replacements(findings));
  const [from, to] = [clock.moved(period.from), clock.moved(period.to)];
  const scale = (to - from) / (period.to - period.from);
  const redacted = withTexts(findingsSchema, withoutDays(shared, clock), {
    text: (text, _, { near }) => inDays(rename(withoutSiteFile(text)), near.some(clock.isNearChange)),
    instant: clock.moved,
    number: (value, place) => roughNumber(value, place, scale),
  }) as Findings;
  return {
    ...redacted,
    redacted: true,
    made: { at: NEUTRAL_MADE, by: findings.made.by },
    site: { ...redacted.site, timeZone: NO_ZONE },
    ...placedOnGrid(redacted, findings, clock),
    typicalDay: null,
    period: { ...redacted.period, days: Math.round((to - from) / DAY_MS) },
    notes: [WHAT_STILL_SHOWS, ...redacted.notes],
  };
}

/** The commands to run next name the site file, and whoever called it so may have called it by a name or an address. */
function withoutSiteFile(text: string): string {
  return text.replace(/(?<=\bkeyworthy (?:confirm|propose) )(?:'(?:[^']|'\\'')*'|[\w./-]*[\w/-])/g, "site.yaml");
}

/** A channel that came under another name: that name is in no site file, so nothing would replace it. */
function exportsShared({ exports, upkeep }: Findings): Pick<Findings, "exports" | "upkeep"> {
  const without = { text: "A channel came under another name.", ask: "Have it called as before." };
  const bare = <One extends { readonly kind: string }>(all: readonly One[]): One[] => all.map((one) => (one.kind === "renamed" ? { ...one, ...without } : one));
  return { ...(exports === undefined ? {} : { exports: bare(exports) }), ...(upkeep === undefined ? {} : { upkeep: { ...upkeep, exports: bare(upkeep.exports) } }) };
}

/** Notes on rows of the hour that a clock change repeats or skips: they would tell the day and the zone. */
const ofClockChange = /\bclock change\b/;

/** The rules without the weekdays of the days, and without the days and times of single false reports. */
function withoutDays(findings: Findings, clock: GridClock): Findings {
  const coversRedacted = makeCoversRedacted(findings.period, clock);
  const bare = (rule: Findings["rules"][number]): Findings["rules"][number] => ({
    ...rule,
    evidence: { ...rule.evidence, covers: coversRedacted(rule.evidence.covers) },
    cumulated: rule.cumulated === null ? null : { ...rule.cumulated, covers: coversRedacted(rule.cumulated.covers) },
    design: rule.design?.history == null ? rule.design : { ...rule.design, history: { ...rule.design.history, days: rule.design.history.days.replace(/[we]/g, "d"), parts: withoutStretches(rule.design.history.parts) } },
  });
  return { ...findings, rules: findings.rules.map(bare), tried: findings.tried.map(bare) };
}

/** What lies within the period by a share of it or by seconds since its beginning, as it lies on days of 24 hours. */
function placedOnGrid(redacted: Findings, real: Findings, clock: GridClock): Pick<Findings, "sensors" | "signals" | "rules" | "tried" | "proposals"> {
  const sensors = redacted.sensors === undefined ? undefined : sensorsOnGrid(redacted.sensors, real.sensors ?? [], real.period.from, clock);
  const split = (at: number): number => splitOnGrid(at, real.period, clock);
  const rulesOf = (rules: Findings["rules"], before: Findings["rules"]): Findings["rules"] =>
    rules.map((rule, i) => (rule.tuning === null ? rule : { ...rule, tuning: { ...rule.tuning, splitAt: split(before[i]?.tuning?.splitAt ?? real.period.to) } }));
  return {
    sensors,
    signals: silencesOnGrid(redacted.signals, real.signals, sensors ?? [], real.sensors ?? []),
    rules: rulesOf(redacted.rules, real.rules),
    tried: rulesOf(redacted.tried, real.tried),
    proposals: redacted.proposals.map((one, i) => ({ ...one, splitAt: split(real.proposals[i]?.splitAt ?? real.period.to) })),
  };
}

type Parts = NonNullable<NonNullable<Findings["rules"][number]["design"]>["history"]>["parts"];

function withoutStretches([first, second]: Parts): Parts {
  return [{ ...first, stretches: [] }, { ...second, stretches: [] }];
}
