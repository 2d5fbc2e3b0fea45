import { stateWords } from "../../site/state-words.js";
import type { Site } from "../../site/site.js";
import { figureText, percentText } from "../rule/words.js";
import { ruleStakes, unverifiedMoments } from "./moments.js";
import { askedRows } from "./rows.js";
import type { JudgedRule } from "./stakes.js";
import type { ConfirmRow, Stake, ToConfirm, UnverifiedMoment } from "../../result/witnesses.js";
import { lookUp } from "../../ground/look-up.js";

/** At most this many moments are asked about: as many as a person answers in one sitting. Our own choice. */
const MOST_ASKED = 12;

/** The few moments whose truth would move the verdicts most, and the rows that would settle them. */
export function toConfirm(site: Site, judged: readonly JudgedRule[]): ToConfirm {
  const stakes = judged.map(ruleStakes);
  const all = unverifiedMoments(judged);
  const moments = all.slice(0, MOST_ASKED);
  const classes = new Map(site.subjects.map((subject) => [subject.id, subject.class]));
  const byId = new Map(moments.map((moment) => [moment.id, moment]));
  const nowOf = new Map(stakes.map((one) => [one.rule, one.now]));
  const rows = askedRows(site, judged, moments).map((row): ConfirmRow => {
    const { on, off } = stateWords[classes.get(row.subject) ?? "bay"];
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- every row is asked for at least one moment
    const first = lookUp(byId, row.moments[0]!);
    const more = row.moments.length - 1;
    return { ...row, words: [on, off], moves: movesText(first, lookUp(nowOf, first.rule)) + (more > 0 ? ` Bears on ${more} more.` : "") };
  });
  return { rules: stakes, count: all.length, moments, rows };
}

/** What the truth of a moment would move, with the figures. */
function movesText(moment: UnverifiedMoment, now: Stake): string {
  const { ifSo, ifNot, sort, id } = moment;
  const [so, not] = sort === "firing" ? ["right", "wrong"] : ["indeed wanted", "not wanted"];
  return `${id}: if ${so}, ${changeText(now, ifSo)}; if ${not}, ${changeText(now, ifNot)}.`;
}

function changeText(now: Stake, then: Stake): string {
  const bound = (value: number | null): string => (value === null ? "any number" : figureText(value, "up"));
  // A change too small to show in the figures is none to a reader.
  const change = (least: string, before: string, after: string, what: string): string[] => (before === after ? [] : [`${least} ${after} instead of ${before} ${what}`]);
  const changes = [
    ...change("at most", bound(now.wrongUpper), bound(then.wrongUpper), "wrong a year"),
    ...change("at least", figureText(now.wrongLower, "down"), figureText(then.wrongLower, "down"), "wrong a year"),
    ...change("at most", percentText(now.missedUpper, "up"), percentText(then.missedUpper, "up"), "missed"),
  ];
  return [...(changes.length === 0 ? ["no bound moves"] : changes), now.verdict === then.verdict ? "the verdict stays" : `the verdict becomes "${then.verdict}"`].join(", ");
}
