import type { Interval } from "../../ground/intervals.js";
import type { Site } from "../../site/site.js";
import { OFF, ON } from "../../timeline/timeline.js";
import type { Reference, ReferenceBook } from "../reference/reference.js";
import type { SignalAccount } from "../signals/account.js";
import { basisAround, chargedStretches, judgedTurns } from "./charging.js";
import { type CompareSettings, referenceTurns } from "./compare-turns.js";
import { type LinkedMovements, linkMovements, type Movement } from "./link.js";
import { participant, type ResponseTo, responsesOf } from "./participants.js";
import type { Episode, Phantom } from "../../result/episodes.js";
import { lookUp } from "../../ground/look-up.js";

/**
 * reference of each subject → movements → linked movements → episodes with their participants;
 * and each signal's phantoms against a reference built without it, if more than one other witness vouches.
 *
 * `lagBook` is what delays are measured against. Episodes are in order of their anchors, phantoms in order of their beginning. Only what begins within `period` is
 * kept. A subject whose reference is unknown throughout has neither, and the findings say so.
 * @throws whatever `book` throws: that is a fault of the program, and half a result would look like a clean record.
 */
export function findEpisodes(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  book: ReferenceBook,
  period: Interval,
  lagBook: ReferenceBook = book,
): { episodes: Episode[]; phantoms: Phantom[] } {
  // 1. The best account of each subject, every signal's vote included.
  const references = new Map(site.subjects.map(({ id }) => [id, book(id, [])] as const));

  // 2. Its transitions, linked into arrivals and departures.
  const movements = site.subjects.flatMap((subject) => movementsOf(lookUp(references, subject.id), subject.class, site, period));
  const linked = linkMovements(movements, site.joinMs);

  // 3. How every signal responded to them.
  const responses = new Map<string, ResponseTo>();
  for (const signal of site.signals) {
    const account = accounts.get(signal.id);
    const reference = references.get(signal.subject);
    if (account !== undefined && reference !== undefined) responses.set(signal.id, responsesOf(account, reference, lagBook(signal.subject, [signal.id]), site));
  }
  const seen = { arrival: 0, departure: 0 };
  const episodes = linked.map((one) => {
    seen[one.kind] += 1;
    const id = `${one.kind === "arrival" ? "A" : "D"}${String(seen[one.kind]).padStart(3, "0")}`;
    return episodeOf(id, one, site, references, responses);
  });

  // 4. What signals said wrongly on their own.
  const phantoms = site.signals
    .flatMap((signal) => {
      const account = accounts.get(signal.id);
      return account === undefined ? [] : phantomsOf(account, book(signal.subject, [signal.id]), site);
    })
    .filter((phantom) => phantom.from >= period.from && phantom.from < period.to)
    .sort((a, b) => a.from - b.from);
  return { episodes, phantoms };
}

/** The transitions of one subject within the period, in no particular order. */
function movementsOf(reference: Reference, subjectClass: Movement["class"], settings: CompareSettings, period: Interval): Movement[] {
  return ([OFF, ON] as const).flatMap((to) =>
    referenceTurns(reference.timeline, to, settings, reference.barriers)
      .map((turn, index) => ({ subject: reference.subject, class: subjectClass, to, turn, index }))
      .filter(({ turn }) => turn.at >= period.from && turn.at < period.to),
  );
}

function episodeOf(
  id: string,
  linked: LinkedMovements,
  site: Site,
  references: ReadonlyMap<string, Reference>,
  responses: ReadonlyMap<string, ResponseTo>,
): Episode {
  const { anchor, movements } = linked;
  const subjects = [...new Set(movements.map((one) => one.subject))];
  const participants = subjects.flatMap((subject) =>
    site.signals
      .filter((signal) => signal.subject === subject)
      .map((signal) => {
        const responseTo = responses.get(signal.id);
        const own = responseTo === undefined ? [] : movements.filter((one) => one.subject === subject).map(responseTo);
        return participant(signal.id, subject, own);
      }),
  );
  return {
    id,
    kind: linked.kind,
    anchor: anchor.turn.at,
    anchorSubject: anchor.subject,
    from: Math.min(...movements.map((one) => one.turn.earliest)),
    to: Math.max(...movements.map((one) => one.turn.at)),
    subjects,
    basis: basisAround(references.get(anchor.subject), anchor.turn),
    participants,
  };
}

/**
 * A signal's phantoms in time order: stretches in which it contradicted `reference`, which must be built without it,
 * and which no transition of that reference explains (see {@link chargedStretches}). So a false arrival that only this
 * signal's own vote made into an episode stays a phantom. If only one other witness contradicts it, it is a
 * disagreement of the two.
 */
function phantomsOf(account: SignalAccount, reference: Reference, settings: CompareSettings): Phantom[] {
  return chargedStretches(account, reference, judgedTurns(account, reference, settings), settings)
    .filter((stretch) => stretch.sort === "phantom")
    .map(({ said, from, to }) => ({ signal: account.signal, subject: reference.subject, said: said === ON ? "on" : "off", from, to }));
}
