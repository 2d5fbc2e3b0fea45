import type { SubjectClass } from "../site/site.js";

/** What parts of names say of the thing watched (common words of the trade). */
const hints: Readonly<Record<SubjectClass, readonly string[]>> = {
  bay: ["bay", "bays", "stall", "space", "berth", "slot", "vehicle", "car", "van", "truck", "overhead", "wall", "mat"],
  door: ["door", "doors", "gate", "shutter", "hatch", "contact", "rail", "hinge", "entrance"],
  person: ["phone", "phones", "handset", "handsets", "mobile", "smartphone", "telefon", "handy", "téléphone", "teléfono", "móvil", "keyring", "tag", "fob", "person", "people", "badge", "wearer"],
};

/** A name's parts, in lower case: cut at punctuation, between letters and digits, and before capitals. */
export function tokensOf(name: string): string[] {
  return (
    name
      .replace(/(\p{Ll})(\p{Lu})/gu, "$1 $2")
      .toLowerCase()
      .match(/\p{L}+|\p{N}+/gu)
      ?.map((token) => token.replace(/^0+(?=\d)/, "")) ?? []
  );
}

/**
 * Names of columns that any sensor's could have: what the file is called says more. With units and with the common ones of other
 * languages (common practice, no source).
 */
const sayNothing = new Set([
  "value", "reading", "state", "says", "status", "measurement", "level", "v", "d", "data", "distance", "dist", "range", "position", "presence",
  "result", "new", "last", "raw", "m", "cm", "mm", "ft", "in", "feet", "inch", "metres", "meters", "wert", "zustand", "abstand", "entfernung",
  "sheet", "table", "tabelle", "tabellenblatt", "blatt", "feuil", "feuille", "hoja", "readings", "history", "export", "distanz", "valeur", "etat", "état", "mesure", "valor", "estado", "medida", "distancia", "contact", "sensor", "signal", "event", "log", "open", "occupied",
]);

/** Whether a column's name tells nothing of the sensor whose readings it holds. */
export function saysNothing(name: string): boolean {
  return tokensOf(name).every((token) => sayNothing.has(token) || /^\p{N}+$/u.test(token));
}

/** The class of subject that a name speaks of; null when it speaks of none or of several. */
export function classHint(name: string): SubjectClass | null {
  const tokens = tokensOf(name);
  const [only, ...others] = (["bay", "door", "person"] as const).filter((one) => hints[one].some((word) => tokens.includes(word)));
  return only !== undefined && others.length === 0 ? only : null;
}

/**
 * A name for the site file: the text itself where it is one short word, else lower-case letters, digits and hyphens;
 * `fallback` when nothing is left.
 */
export function plainName(text: string, fallback: string): string {
  if (/^[a-z][\w.-]{0,59}$/.test(text)) return text;
  const plain = tokensOf(text.slice(0, 60)).join("-").normalize("NFC");
  return plain === "" ? fallback : plain;
}

/** A name that is not taken yet: the name itself, or with the first free number behind it. Takes it. */
export function freeName(wanted: string, taken: Set<string>): string {
  let name = wanted;
  for (let i = 2; taken.has(name); i++) name = `${wanted}-${i}`;
  taken.add(name);
  return name;
}

/**
 * What names of signals say of the subject they share: `bay-1` of bay-1-overhead, the number 1 of d1, `lead` of
 * lead-phone and Lead. Words for the sensor itself do not count. Empty when no other word remains.
 */
export function subjectStem(name: string): string {
  const tokens = tokensOf(name);
  const number = tokens.find((token) => /^\p{N}+$/u.test(token));
  const words = tokens.filter((token) => !/^\p{N}+$/u.test(token) && !sensorWords.has(token));
  if (number !== undefined) {
    // In d1 and w1 the letter is the sensor's sort and the number the subject's; in north2 the word counts too.
    const longWords = words.filter((word) => word.length > 2);
    return [...(longWords.length === 0 ? [] : longWords.slice(0, 1)), number].join("-");
  }
  return words.join("-");
}

const sensorWords = new Set([
  "overhead", "wall", "mat", "phone", "phones", "mobile", "handset", "telefon", "handy", "téléphone", "teléfono", "móvil", "tag", "fob", "badge", "rail", "hinge", "post", "contact", "sensor", "meter",
  "distance", "top", "side", "front", "rear", "left", "right", "upper", "lower", "state", "presence",
]);
