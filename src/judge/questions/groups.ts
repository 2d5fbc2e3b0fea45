import { greatest, least } from "d3-array";
import type { RuleFinding, Verdict } from "../../result/rules.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { Draft } from "./event-questions.js";
import type { Moment } from "./moments.js";
import { askingOrder } from "../evidence/checked.js";
import { isLikely } from "./likely.js";
import { recounting, type Counts } from "./recount.js";
import { supposing, type JudgedRule, type Row } from "./suppose.js";

/** A question with the moments of one rule that it bears on. */
export interface Bearing {
  readonly draft: Draft;
  readonly moments: readonly Moment[];
}

/** The questions whose answers change a rule's verdict, and to what. */
export interface Flip {
  /** The fewest found. */
  readonly group: readonly Bearing[];
  readonly verdict: Verdict;
}

/** What answers can do for one rule. */
export interface Reach {
  /** One for each direction in which answers change the verdict: none, one or two; the one of fewer questions first. */
  readonly flips: readonly Flip[];
  /** Where answers change it, but only more than anybody gives in one sitting: how many. */
  readonly tooMany: number | null;
  /** Where answers change it, but only as they are unlikely to be: of how many questions how many would have to be so. */
  readonly unlikely: { readonly needed: number; readonly of: number; readonly inFavour: boolean } | null;
  /** Questions of which some answer by itself settles a moment. */
  readonly telling: ReadonlySet<Draft>;
  /** The finding if all questions were answered in the rule's favour. */
  readonly best: RuleFinding;
}

/** Nobody answers more. Our own choice. */
const MOST_ASKED = 40;

/** More questions than this are not supposed at once: nobody answers them. Our own choice. */
const MOST_SUPPOSED = 80;

/**
 * What answers can do: every question is supposed answered in the rule's favour, and again against it. Where that changes
 * the verdict, the fewest first questions that do so are looked for, those whose answer tells most by itself first, and
 * those that are not needed are left out. `over` gives the verdict over all months.
 */
export function reachOf(judged: JudgedRule, questions: readonly Bearing[], bare: ReferenceBook, over: (finding: RuleFinding) => RuleFinding): Reach {
  const now = over(judged.finding).verdict;
  const count = recounting(judged, bare);
  const told = inOrder(questions).slice(0, MOST_SUPPOSED).map((bearing) => ({ bearing, answers: scoredAnswers(count, bearing) }));
  const base = scoreOf(count([]));
  const directions = ([1, -1] as const).map((direction) => {
    const chosen = told.map(({ bearing, answers }) => {
      const answer = direction === 1 ? greatest(answers, ({ score }) => score) : least(answers, ({ score }) => score);
      return { bearing, rows: answer?.rows ?? [], tells: Math.max(0, ((answer?.score ?? base) - base) * direction) };
    });
    // Of those that tell as much: in the rule's favour in the order in which a draw counts, against it the order stays.
    return { direction, chosen: chosen.sort((a, b) => b.tells - a.tells || (direction === 1 ? drawnAt(a.bearing) - drawnAt(b.bearing) : 0)) };
  });
  const findingOf = (chosen: readonly { readonly rows: readonly Row[] }[], outlook = true): RuleFinding => over(supposing(judged, chosen.flatMap(({ rows }) => rows), bare, outlook));
  const wholes = directions.map(({ direction, chosen }) => ({ direction, chosen, finding: findingOf(chosen) }));
  const [inFavour] = wholes;
  const found = wholes.flatMap(({ direction, chosen, finding }) => {
    const flipsWith = (some: typeof chosen): boolean => findingOf(some, false).verdict !== now;
    if (finding.verdict === now) return [];
    const fewest = needed(chosen.slice(0, firstLength(chosen.length, (length) => flipsWith(chosen.slice(0, length)))), flipsWith);
    const group = fewest.map(({ bearing }) => bearing);
    const likely = group.some(({ draft }) => draft.again) || isLikely(group.length, told.map(({ bearing }) => bearing), direction, judged.finding, judged.rule.standard.confidence);
    return [{ group, verdict: findingOf(fewest, false).verdict, likely, inFavour: direction === 1 }];
  });
  const fewestFirst = found.toSorted((a, b) => a.group.length - b.group.length);
  const flips = fewestFirst.filter(({ group, likely }) => likely && group.length <= MOST_ASKED);
  const [nearest] = flips.length > 0 ? [] : fewestFirst;
  const telling = new Set(told.flatMap(({ bearing, answers }) => (answers.some(({ score }) => score !== base) ? [bearing.draft] : [])));
  return {
    flips,
    tooMany: nearest?.likely === true ? nearest.group.length : null,
    unlikely: nearest?.likely === false ? { needed: nearest.group.length, of: told.length, inFavour: nearest.inFavour } : null,
    telling,
    best: inFavour?.finding ?? judged.finding,
  };
}

/** The place of a question's first firing in the order in which to ask. */
function drawnAt({ moments }: Bearing): number {
  return Math.min(...moments.map(({ at }) => askingOrder(at)));
}

const looksFirst = ["wrong", "unclear", "right"] as const;

/**
 * Routines first, for they settle most at once; then what looks wrong before what is unclear and what looks right, since
 * there memory most likely says something new (our own choice); then by time; of one moment first whom its own sensors
 * say to have moved.
 */
function inOrder(questions: readonly Bearing[]): Bearing[] {
  return questions
    .map((bearing) => {
      const { draft, moments } = bearing;
      return {
        bearing,
        settles: draft.sort === "routine" ? moments.length : 0,
        place: Math.min(...moments.map(({ looks }) => looksFirst.indexOf(looks))),
        first: Math.min(...moments.map(({ at }) => at)),
      };
    })
    .sort((a, b) => b.settles - a.settles || a.place - b.place || a.first - b.first || Number(b.bearing.draft.moved) - Number(a.bearing.draft.moved) || (a.bearing.draft.id < b.bearing.draft.id ? -1 : 1))
    .map(({ bearing }) => bearing);
}

function scoredAnswers(count: (rows: readonly Row[]) => Counts, { draft }: Bearing): { readonly rows: readonly Row[]; readonly score: number }[] {
  return draft.wording().answers.map(({ rows }) => ({ rows, score: scoreOf(count(rows)) }));
}

/** How well a rule did: what was confirmed right or in time, less what was wrong, late or missed. */
function scoreOf({ firings, wanted }: Counts): number {
  return firings.right - firings.wrong + (wanted.verified - wanted.verifiedFailed) - (wanted.missed + wanted.late);
}

/** The least length from 1 to `most` that is enough, given that `most` is and that more never undoes it. */
function firstLength(most: number, isEnough: (length: number) => boolean): number {
  let [low, high] = [1, most];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (isEnough(middle)) high = middle;
    else low = middle + 1;
  }
  return high;
}

/** The items without those that are not needed: halves are tried first, then ever smaller parts, from the last on. */
function needed<Item>(items: readonly Item[], isEnough: (some: Item[]) => boolean): Item[] {
  let left = [...items];
  for (let size = Math.ceil(items.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let end = left.length; end > 0; end -= size) {
      const without = [...left.slice(0, Math.max(0, end - size)), ...left.slice(end)];
      if (without.length > 0 && isEnough(without)) left = without;
    }
  }
  return left;
}
