const english = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/** Months by name in German, French, Spanish and English, long and short, as the Unicode locale data (CLDR) have them; written from memory. */
const names: readonly (readonly string[])[] = [
  ["january", "jan", "januar", "jänner", "jän", "janvier", "janv", "enero", "ene"],
  ["february", "feb", "februar", "février", "févr", "fevrier", "febrero"],
  ["march", "mar", "märz", "mrz", "mär", "mars", "marzo"],
  ["april", "apr", "avril", "avr", "abril", "abr"],
  ["may", "mai", "mayo"],
  ["june", "jun", "juni", "juin", "junio"],
  ["july", "jul", "juli", "juillet", "juil", "julio"],
  ["august", "aug", "août", "aout", "agosto", "ago"],
  ["september", "sep", "sept", "septembre", "septiembre"],
  ["october", "oct", "oktober", "okt", "octobre", "octubre"],
  ["november", "nov", "novembre", "noviembre"],
  ["december", "dec", "dezember", "dez", "décembre", "déc", "diciembre", "dic"],
];
const monthOf = new Map(names.flatMap((own, month) => own.map((name) => [name, month] as const)));

/** Whether a text is the name of a month, with or without the point of an abbreviation. */
export function isMonthName(text: string): boolean {
  return monthOf.has(text.toLowerCase().replace(/\.$/, ""));
}

/**
 * A stamp as its English twin would be written: months of German, French and Spanish by their English names (short where the `pattern` has
 * `MMM`), and `a.m.` as `AM`.
 */
export function inEnglish(text: string, pattern: string): string {
  const isShort = !pattern.includes("MMMM");
  return text
    .replace(/\b([ap])\.?\s?m\.?(?=$|\s)/i, (_, half: string) => `${half.toUpperCase()}M`)
    .replace(/\p{L}{3,10}\.?/gu, (word) => {
      const month = monthOf.get(word.toLowerCase().replace(/\.$/, ""));
      const name = month === undefined ? undefined : english[month];
      // An English name stays as long as it is: the pattern says how long.
      return name === undefined || word.toLowerCase() === name.toLowerCase() ? word : isShort ? name.slice(0, 3) : name;
    });
}
