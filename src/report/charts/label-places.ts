import type { PlacedSpan } from "./sheet.js";
import { TEXT_PX } from "./theme.js";

interface Marked {
  readonly label: string;
  readonly x: number;
  readonly y: number;
}

/** A label at its place, px; `lead` is a thin line from its mark where it could not stand beside it. */
export interface LabelPlace {
  readonly label: string;
  readonly x: number;
  readonly y: number;
  readonly align: "left" | "right";
  readonly lead: PlacedSpan | null;
}

interface Box {
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
}

/** A generous mean width of a bold character, as a share of the text size: no fonts are measured here. */
const CHARACTER_WIDTH = 0.62;
const GAP_PX = 9;
const LINE_PX = TEXT_PX + 3;
const MARK_PX = 5;

/**
 * Places labels beside their marks so that none covers another label or a mark: to the right or left of its mark, else
 * above or below, as near as possible. A label for which there is no place is left out. The first label chooses first.
 */
export function labelPlaces(
  labels: readonly Marked[],
  within: { readonly marks: readonly { x: number; y: number }[]; readonly width: number; readonly height: number; readonly top: number },
): LabelPlace[] {
  const taken: Box[] = within.marks.map(({ x, y }) => ({ x: x - MARK_PX, x2: x + MARK_PX, y: y - MARK_PX, y2: y + MARK_PX }));
  const steps = Math.ceil(within.height / LINE_PX) + 1;
  return labels.flatMap(({ label, x, y }): LabelPlace[] => {
    const long = label.length * TEXT_PX * CHARACTER_WIDTH;
    for (const level of [0, ...Array.from({ length: steps }, (_, index) => [-(index + 1) * LINE_PX, (index + 1) * LINE_PX]).flat()]) {
      for (const align of ["left", "right"] as const) {
        const start = align === "left" ? x + GAP_PX : x - GAP_PX;
        const box = {
          x: align === "left" ? start : start - long,
          x2: align === "left" ? start + long : start,
          y: y + level - LINE_PX / 2,
          y2: y + level + LINE_PX / 2,
        };
        if (
          box.x < 0 ||
          box.x2 > within.width ||
          box.y < within.top - LINE_PX / 2 ||
          box.y2 > within.height ||
          taken.some((other) => overlap(box, other))
        )
          continue;
        taken.push(box);
        const lead = level === 0 ? null : { x, y, x2: align === "left" ? start - 2 : start + 2, y2: y + level };
        return [{ label, x: start, y: y + level, align, lead }];
      }
    }
    return [];
  });
}

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x2 && b.x < a.x2 && a.y < b.y2 && b.y < a.y2;
}
