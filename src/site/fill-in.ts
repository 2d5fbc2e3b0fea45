import type { ProblemParts } from "../ground/problem.js";
import { pathText } from "./check-shape.js";
import type { Path, Written, YamlText } from "./yaml-text.js";

/** Marks a gap in a drafted site file that the person must fill in. It is no likely name, word or unit. */
export const FILL_IN = "FILL-IN";

/**
 * The problems with each place that is still to be filled in named as that, once, in the stead of what {@link FILL_IN}
 * would be wrong for as a word, a unit or a zone.
 */
export function withFillIns(problems: readonly ProblemParts[], yaml: YamlText, file: string): ProblemParts[] {
  const others = problems.filter(({ what, found }) => !`${what} ${found ?? ""}`.includes(FILL_IN));
  // No problem comes from a gap: the mark may be a word of an export after all.
  if (others.length === problems.length) return [...problems];
  const places = placesToFillIn(yaml.value, []);
  return [
    ...others,
    ...places.map((path): ProblemParts => ({
      code: "site-shape",
      what: `${pathText(path)} is still to be filled in`,
      file,
      ...yaml.placeOf(path),
      expected: `an answer to the question above it, marked "# FILL IN:"`,
      found: FILL_IN,
    })),
  ];
}

function placesToFillIn(value: Written, path: Path): Path[] {
  if (value === FILL_IN) return [path];
  if (value === null || typeof value === "string") return [];
  if (Array.isArray(value)) return (value as readonly Written[]).flatMap((item, i) => placesToFillIn(item, [...path, i]));
  return Object.entries(value).flatMap(([key, item]) => placesToFillIn(item, [...path, key]));
}
