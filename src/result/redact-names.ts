import { findingsSchema, type Findings } from "./findings.js";
import { withTexts } from "./visit-texts.js";

/** What a name is the name of; the replacement says so. */
export type NameSort = "signal" | "bay" | "door" | "person" | "vehicle" | "cause" | "rule" | "source" | "file" | "model" | "firmware" | "digest" | "result" | "stamps" | "site" | "zone";

/**
 * Keys of the findings under which names stand, wherever they occur, and what they name. Every other text is prose of
 * ours in which such names may occur; `tests/result/redact.test.ts` fails when a key is in neither list.
 */
export const nameKeys: Readonly<Record<string, NameSort | "subject" | "any">> = {
  signal: "signal", signals: "signal", witnesses: "signal", vouchers: "signal", inTheWay: "signal", saidOn: "signal", saidOff: "signal", againstReference: "signal",
  subject: "subject", subjects: "subject", anchorSubject: "subject", bay: "bay", vehicle: "vehicle",
  cause: "cause", causes: "cause", sharedCauses: "cause", shares: "cause",
  rule: "rule", rules: "rule", opens: "rule", closes: "rule", digest: "digest",
  source: "source", first: "source", second: "source", against: "source", readAs: "stamps", file: "file", model: "model", firmware: "firmware", what: "result",
  name: "any", target: "any",
};

/** A word that stands among names and is nobody's. */
const DIARY = "diary";

/** Every name in the findings with what it is replaced by: the same everywhere, in the order of the site. */
export function replacements(findings: Findings): ReadonlyMap<string, string> {
  const taken = new Map<string, string>();
  const counts = new Map<NameSort, number>();
  const add = (sort: NameSort, name: string | null): void => {
    if (name === null || name === "" || name === DIARY || taken.has(name)) return;
    const count = counts.get(sort) ?? 0;
    counts.set(sort, count + 1);
    taken.set(name, sort === "site" ? "the site" : sort === "zone" ? "the site’s zone" : `${sort}-${lettered.has(sort) ? letters(count) : count + 1}`);
  };
  /** Names that stand in no list of the site: of files, sources, models, and whatever a key says is one. */
  const addKeyed = (key: string, text: string): void => {
    const sort = nameKeys[key];
    if (sort !== undefined && sort !== "any") add(sort === "subject" ? "bay" : sort, text);
  };
  const { site } = findings;
  add("site", site.name);
  if (site.timeZone.toUpperCase() !== "UTC") add("zone", site.timeZone);
  for (const { signal } of findings.signals) add("signal", signal);
  for (const subject of site.subjects) add(subject.class, subject.id);
  for (const subject of site.subjects) add("vehicle", subject.vehicle);
  for (const { cause } of site.sharedCauses) add("cause", cause);
  for (const rule of [...findings.rules, ...findings.tried]) add("rule", rule.name);
  withTexts(findingsSchema, findings, { instant: (instant) => instant, text: (text, key) => (addKeyed(key, text), text) });
  for (const written of [...taken]) for (const spelling of spellings(written[0])) if (!taken.has(spelling)) taken.set(spelling, written[1]);
  return taken;
}

const lettered: ReadonlySet<NameSort> = new Set(["bay", "door", "person"]);

/** A, B … Z, AA, AB … */
function letters(count: number): string {
  const rest = Math.floor(count / 26);
  return `${rest > 0 ? letters(rest - 1) : ""}${String.fromCharCode(65 + (count % 26))}`;
}

/** How a name with spaces or signs in it may be spelt in the name of a folder or a file. */
function spellings(name: string): string[] {
  const parts = name.split(/[^\p{L}\p{N}]+/u).filter((part) => part !== "");
  return parts.length < 2 || !/\p{L}/u.test(name) ? [] : ["-", "_", " ", ""].map((link) => parts.join(link)).filter((spelling) => spelling !== name);
}

/**
 * Replaces names within prose, the longest first, whatever their case, where no letter or digit touches them. A name of one
 * letter is replaced in its own case, where it is a word of its own: not as the article “a”, a unit after a number (`2 h`), the end of a possessive. A
 * name that is a mere number is left alone within prose, where it would be taken for any number; as a text of its own it is
 * replaced too.
 */
export function nameReplacer(names: ReadonlyMap<string, string>): (text: string) => string {
  const byLower = new Map([...names].map(([name, replacement]) => [name.toLowerCase(), replacement]));
  const telling = [...names.keys()].filter((name) => !/^(?:[\d.,]+|.)$/u.test(name)).sort((a, b) => b.length - a.length);
  const pattern = telling.length === 0 ? null : new RegExp(`(?<![\\p{L}\\p{N}])(?:${telling.map(escaped).join("|")})(?![\\p{L}\\p{N}])`, "giu");
  const replaceLetters = letterReplacer(new Map([...names].filter(([name]) => /^\p{L}$/u.test(name))));
  return (text) => names.get(text) ?? replaceLetters(pattern === null ? text : text.replace(pattern, (found) => byLower.get(found.toLowerCase()) ?? found));
}

/** What may follow a name and hardly ever the article. */
const afterName = /^(?:'s|’s)?\s+(?:is|was|were|has|had|reads?|says?|said|turn(?:s|ed)|st(?:ands|ood)|may|might|could|would|did|does|saw|left|comes?|came|goes|went|and|or|at|from|to|until|since|when|in|on|by|for|alone|together|cannot|can|will)\b/;

function letterReplacer(names: ReadonlyMap<string, string>): (text: string) => string {
  if (names.size === 0) return (text) => text;
  // Not after a number and a space (a unit), nor behind an apostrophe or within `e.g.`.
  const pattern = new RegExp(`(?<![\\p{L}\\p{N}_-]|[\\p{L}\\p{N}][’']|\\d |\\p{L}\\.)(?:${[...names.keys()].join("|")})(?![\\p{L}\\p{N}_-]|\\.\\p{L})`, "gu");
  return (text) => text.replace(pattern, (found: string, at: number) => (isArticle(found, text.slice(0, at), text.slice(at + 1)) ? found : (names.get(found) ?? found)));
}

/** Whether an a is the article: small before a word, or large at the beginning of a sentence, unless what follows says otherwise. */
function isArticle(found: string, before: string, after: string): boolean {
  if (found.toLowerCase() !== "a" || !/^ \p{L}/u.test(after) || afterName.test(after)) return false;
  return found === "a" || (/(?:^|[.!?:;] )$/.test(before) && /^ \p{Ll}/u.test(after));
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\/]/g, (sign) => `\\${sign}`);
}
