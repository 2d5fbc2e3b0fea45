import { plainNumber, type WriterName, writers } from "../../src/report/writers.js";

/** A number of a page with where it says it came from. */
interface TracedNumber {
  readonly plain: string;
  readonly from: string;
  readonly as: string;
  readonly text: string;
}

/** The value at a path such as `signals.3.knownShare`; a `*` makes a list of what every entry holds there. Written anew here: it checks the one in src. */
function valueAt(data: unknown, path: string): unknown {
  let at: unknown = data;
  const keys = path.split(".");
  for (const [index, key] of keys.entries()) {
    if (key === "*") return (at as unknown[]).map((entry) => valueAt(entry, keys.slice(index + 1).join(".")));
    at = (at as Readonly<Record<string, unknown>> | undefined)?.[key];
  }
  return at;
}

/** What a reader sees of a piece of a page. */
export function seenText(html: string): string {
  return html.replace(/<[^>]*>/g, "").replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&quot;/g, '"').replace(/&amp;/g, "&");
}

/** Every number of a page that says where it came from: a path that begins with a dot goes on from the row's; whatever says nothing else is a count. */
export function tracedNumbers(html: string): TracedNumber[] {
  let row = "";
  return [...html.matchAll(/<tr(?=[ >])[^>]*>|<data(?: class="[^"]*")? value(?:="([^"]*)")? data-from="([^"]*)"(?: data-as="([^"]*)")?>([\s\S]*?)<\/data>/g)].flatMap(([tag, plain = "", from, as = "count", text = ""]) => {
    if (from !== undefined) return [{ plain, from: from.startsWith(".") ? row + from : from, as, text: seenText(text) }];
    row = / data-of="([^"]*)"/.exec(tag)?.[1] ?? "nowhere";
    return [];
  });
}

/** What is wrong with the traced numbers of a page: those that cannot be written again from where they say they came from in `stored`. */
export function wronglyTraced(html: string, stored: unknown): string[] {
  const numbers = tracedNumbers(html);
  const unread = html.split("<data ").length - 1 - numbers.length;
  const wrong = numbers.flatMap(({ plain, from, as, text }) => {
    const value = valueAt(stored, from);
    if (value === undefined) return [`${from}: there is nothing`];
    const again = (writers[as as WriterName] as (value: unknown) => string)(value);
    const number = plainNumber(value, as as WriterName);
    const plainAgain = number === null ? "" : String(Number(number.toPrecision(6)));
    return [...(again === text ? [] : [`${from}: shows ${text}, is ${again}`]), ...(plainAgain === plain ? [] : [`${from}: carries ${plain}, is ${plainAgain}`])];
  });
  return unread === 0 ? wrong : [...wrong, `${unread} numbers say nothing of how they are written`];
}

/** A piece of a page without what carries its origin, without names, instants and drawings. */
export function untracedText(html: string): string {
  return seenText(html.replace(/<data[^>]*>[\s\S]*?<\/data>|<time[^>]*>[\s\S]*?<\/time>|<bdi[^>]*>[\s\S]*?<\/bdi>|<svg[\s\S]*?<\/svg>/g, ""));
}
