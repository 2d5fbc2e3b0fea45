import type { SubjectClass } from "../site/site.js";

/** A pair of words for a state and its opposite; `class` null where the words fit several classes. */
export interface WordPair {
  readonly on: string;
  readonly off: string;
  readonly class: SubjectClass | null;
}

/**
 * Plain words of English, German, French and Spanish; which of the two is "on" is their meaning. Compared in lower case, with a space
 * for an underscore or a hyphen.
 */
const pairs: readonly WordPair[] = [
  ...pairsOf("door", [
    "open/closed", "open/shut", "opened/closed", "open/close", "ajar/closed", "unlatched/latched",
    "offen/geschlossen", "offen/zu", "auf/zu", "geöffnet/geschlossen", "ouvert/fermé", "ouverte/fermée", "abierto/cerrado",
    "abierta/cerrada",
  ]),
  ...pairsOf("bay", [
    "occupied/empty", "occupied/free", "occupied/vacant", "occupied/unoccupied", "taken/free", "full/empty",
    "parked/gone", "belegt/frei", "besetzt/frei", "occupé/libre", "occupée/libre", "ocupado/libre", "ocupada/libre",
  ]),
  ...pairsOf("person", [
    "here/away", "here/gone", "here/not here", "there/away", "there/gone", "there/not there", "came/went", "arrived/departed", "entered/left", "home/gone", "home/away", "in/out", "near/far", "inside/outside", "arrived/left", "at home/away", "at home/out",
    "home/out", "da/weg", "da/fort", "gekommen/gegangen", "daheim/weg", "zuhause/weg", "zu hause/weg", "zuhause/unterwegs", "anwesend/abwesend", "là/parti", "arrivé/parti", "chez soi/sorti",
    "en casa/fuera", "llegó/salió",
  ]),
];

/** Yes and no in its many spellings: of what, they do not say. */
const plainPairs: readonly WordPair[] = pairsOf(null, [
  "1/0", "true/false", "on/off", "yes/no", "y/n", "t/f", "active/inactive", "detected/clear", "present/absent",
  "moved/quiet", "moved/still", "motion/clear", "motion/still", "motion/quiet", "movement/still", "movement/clear", "triggered/clear", "triggered/idle", "active/idle", "busy/idle",
  "bewegung/ruhe", "mouvement/calme", "movimiento/quieto",
  "high/low", "ja/nein", "an/aus", "ein/aus", "wahr/falsch", "oui/non", "vrai/faux", "présent/absent", "sí/no", "si/no", "presente/ausente",
]);

function pairsOf(subjectClass: SubjectClass | null, texts: readonly string[]): WordPair[] {
  return texts.map((text) => {
    const [on = "", off = ""] = text.split("/");
    return { on, off, class: subjectClass };
  });
}

/** How the four languages put a "not" before a word. */
const NOT = /^(?:not|no|non|nicht|kein|keine|pas|sin)\s+(?=\S)|^(?:non|un)(?=\p{L}{3})/u;

/** A word as it is compared: `Not_Home` is `not home`. */
function plainWord(text: string): string {
  return text.trim().toLowerCase().replace(/[_\s-]+/g, " ").trim();
}

/** The word that a text is the opposite of: `home` for `not_home` and `nicht home`; null for a text that denies nothing. */
function denied(text: string): string | null {
  const word = plainWord(text);
  const bare = word.replace(NOT, "");
  return bare === word || bare === "" ? null : bare;
}

/** Pairs of a word and its own denial among some texts, of the class that other pairs give the word. */
function deniedPairs(words: readonly string[]): WordPair[] {
  return words.flatMap((word) => {
    const on = denied(word);
    if (on === null) return [];
    const known = pairs.find((pair) => pair.on === on);
    return words.includes(on) || known !== undefined ? [{ on, off: word, class: known?.class ?? null }] : [];
  });
}

const missingWords = ["", "-", "n/a", "na", "null", "none", "nil", "nan"];
const lostWords = [
  "no link", "offline", "unavailable", "unknown", "lost", "disconnected", "unreachable", "not available",
  "no signal", "timeout", "timed out", "no reply", "no answer", "no response", "not responding", "not reachable", "connection lost",
  "link lost", "no connection", "not connected", "stale", "unbekannt", "nicht verfügbar", "nicht erreichbar", "getrennt",
  "keine verbindung", "hors ligne", "indisponible", "inconnu", "sin conexión", "no disponible", "desconocido",
];

/** Whether a cell says nothing, says that the sensor does not know, or says something. */
export function standing(cell: string): "missing" | "lost" | "news" {
  const text = cell.trim();
  // Most cells are numbers: those need no look at words.
  if (/^[+-]?\d/.test(text)) return "news";
  const lower = text.toLowerCase();
  return missingWords.includes(lower) ? "missing" : lostWords.includes(lower) || lostWords.includes(plainWord(text)) ? "lost" : "news";
}

/** The pair that texts belong to: both of its words, or one of them, make up nearly all. Null for other texts. */
export function pairOf(texts: readonly string[]): WordPair | null {
  const words = new Set(texts.filter((text) => standing(text) === "news").map(plainWord));
  const all = [...pairs, ...plainPairs, ...deniedPairs([...words])];
  return (
    all.find(({ on, off }) => words.has(on) && words.has(off)) ??
    all.find(({ on, off }) => words.size === 1 && (words.has(on) || words.has(off))) ??
    null
  );
}

/** Share of a signal's news that must be one of two words for it to be read by words (our own choice). */
const LEAST_WORD_SHARE = 0.95;

/** A signal's two words, in the spellings seen. `known` false: which of them is on, the words do not say. */
export interface WordsFound {
  readonly on: readonly string[];
  readonly off: readonly string[];
  readonly class: SubjectClass | null;
  /** `plain` yes/no words have an on and an off, but whose state it is must come from elsewhere. */
  readonly meaning: "told" | "plain" | "unknown";
  /** Cells with other words, which will be set aside. */
  readonly others: ReadonlyMap<string, number>;
}

/** The words of a signal, from how often each text was seen; null when two words do not make up nearly all of them. */
export function findWords(texts: ReadonlyMap<string, number>): WordsFound | null {
  const news = [...texts].filter(([text]) => standing(text) === "news").sort((a, b) => b[1] - a[1]);
  const total = news.reduce((sum, [, count]) => sum + count, 0);
  if (total === 0) return null;
  const words = [...new Set(news.map(([text]) => plainWord(text)))];
  // Every known pair that is there; the one that covers most counts.
  const cover = (pair: WordPair): number =>
    news.reduce((sum, [text, count]) => sum + (is(text, pair.on) || is(text, pair.off) ? count : 0), 0);
  const known = [...pairs, ...plainPairs, ...deniedPairs(words)]
    .map((pair) => ({ pair, covered: cover(pair), both: words.includes(pair.on) && words.includes(pair.off) }))
    .sort((a, b) => b.covered - a.covered || Number(b.both) - Number(a.both))[0];
  if (known !== undefined && known.covered >= LEAST_WORD_SHARE * total) {
    const { pair } = known;
    return {
      on: spellings(news, pair.on),
      off: spellings(news, pair.off),
      class: pair.class,
      meaning: pair.class === null ? "plain" : "told",
      others: new Map(news.filter(([text]) => !is(text, pair.on) && !is(text, pair.off))),
    };
  }
  const several = pairsOverTime(news, total, words);
  if (several !== null) return several;
  const [first, second] = news;
  if (
    first === undefined ||
    second === undefined ||
    first[1] + second[1] < LEAST_WORD_SHARE * total ||
    first[0].length > 40 ||
    second[0].length > 40
  ) {
    return null;
  }
  return { on: [first[0]], off: [second[0]], class: null, meaning: "unknown", others: new Map(news.slice(2)) };
}

/** Several pairs for one thing, each there with both of its words, as where a device was set to another language: open and shut, offen and zu. */
function pairsOverTime(news: readonly (readonly [string, number])[], total: number, words: readonly string[]): WordsFound | null {
  const there = pairs.filter(({ on, off }) => words.includes(on) && words.includes(off));
  const [first] = there;
  if (first === undefined || there.some((pair) => pair.class !== first.class)) return null;
  const [on, off] = [there.map((pair) => pair.on), there.map((pair) => pair.off)];
  if (on.some((word) => off.includes(word))) return null;
  const others = news.filter(([text]) => !on.includes(plainWord(text)) && !off.includes(plainWord(text)));
  if (others.reduce((sum, [, count]) => sum + count, 0) > (1 - LEAST_WORD_SHARE) * total) return null;
  return {
    on: [...new Set(on.flatMap((word) => spellings(news, word)))],
    off: [...new Set(off.flatMap((word) => spellings(news, word)))],
    class: first.class,
    meaning: "told",
    others: new Map(others),
  };
}

/** The spellings in which a word was seen, or the word itself when it never was. */
function spellings(news: readonly (readonly [string, number])[], word: string): string[] {
  const seen = [...new Set(news.map(([text]) => text.trim()).filter((text) => is(text, word)))];
  return seen.length === 0 ? [word] : seen.sort();
}

function is(text: string, word: string): boolean {
  return plainWord(text) === word;
}
