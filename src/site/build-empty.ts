import { pathText } from "./check-shape.js";
import type { Complaints } from "./complaints.js";
import { lengthMetres, parseLength } from "./length.js";
import type { WrittenSignal } from "./shape.js";
import type { DistanceRange, DistanceUnit } from "./site.js";
import type { Path } from "./yaml-text.js";

type Pair = readonly [string, string];

/**
 * The distances that an empty bay reads, in metres, in the order in which they are written; null where the site file does not say,
 * and where it says it in a way that was complained about. `present`: the band they must stay clear of; to touch it is fine.
 */
export function emptyRanges(
  written: WrittenSignal,
  unit: DistanceUnit,
  present: DistanceRange,
  path: Path,
  complaints: Complaints,
): DistanceRange[] | null {
  if (written.empty === undefined) return null;
  const place = [...path, "empty"];
  const pairs = pairsOf(written.empty);
  if (pairs === null) {
    complaints.atKey(place, {
      code: "site-shape",
      what: `The value of ${pathText(place)} cannot be used`,
      expected: "two distances, [near, far], or a list of such pairs",
      found: foundText(written.empty),
    });
    return null;
  }
  const single = typeof written.empty[0] === "string";
  const ranges = pairs.map((pair, i) => rangeOf(pair, unit, present, single ? place : [...place, i], complaints));
  return ranges.some((one) => one === null) ? null : ranges.filter((one) => one !== null);
}

/** One pair may stand alone. */
function pairsOf(items: NonNullable<WrittenSignal["empty"]>): Pair[] | null {
  const lists: readonly (string | readonly string[])[] = items.every((item) => typeof item === "string") ? [items] : items;
  const pairs = lists.filter(isPair);
  return pairs.length === lists.length ? pairs : null;
}

function isPair(item: string | readonly string[]): item is Pair {
  return typeof item !== "string" && item.length === 2;
}

function rangeOf([near, far]: Pair, unit: DistanceUnit, present: DistanceRange, place: Path, complaints: Complaints): DistanceRange | null {
  const [nearMetres, farMetres] = [near, far].map((text, i) => {
    const length = parseLength(text);
    if (length === null) {
      complaints.atValue([...place, i], {
        code: "site-shape",
        what: `The value of ${pathText([...place, i])} cannot be used`,
        expected: "a distance such as 7.9 or 240cm",
        found: `"${text}"`,
      });
    }
    return length === null ? null : lengthMetres(length, unit);
  }) as [number | null, number | null];
  if (nearMetres === null || farMetres === null) return null;
  const wrong = (what: string, expected: string): null => {
    complaints.atValue(place, { code: "site-band", what, expected, found: `[${near}, ${far}]` });
    return null;
  };
  if (nearMetres < 0) return wrong(`The empty readings of ${pathText(place)} start below zero`, "zero or more");
  if (nearMetres > farMetres) {
    return wrong(`The empty readings of ${pathText(place)} are the wrong way round`, "[near, far] with near up to far");
  }
  if (nearMetres < present.farMetres && farMetres > present.nearMetres) {
    return wrong(
      `The empty readings of ${pathText(place)} lie in the band in which a vehicle is present`,
      "distances outside of `present`",
    );
  }
  return { nearMetres, farMetres };
}

function foundText(items: NonNullable<WrittenSignal["empty"]>): string {
  return items.length === 1 && typeof items[0] === "string" ? `"${items[0]}"` : `a list of ${items.length}`;
}
