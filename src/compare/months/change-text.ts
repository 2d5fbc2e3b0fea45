import type { Change } from "../../result/months-schema.js";

const nouns: Readonly<Record<Change["measure"], string>> = {
  "missed visits": "missed visits",
  phantoms: "phantoms",
  silences: "silences",
  restarts: "restarts",
  "known time": "the time known",
  "lag when arriving": "the median lag when somebody or something arrives",
  "lag when leaving": "the median lag when somebody or something leaves",
  "reading when occupied": "the median reading when occupied",
  "reading when empty": "the median reading when empty",
  "clock offset": "the clock offset, corrections by the site file taken out,",
  "clock drift": "the clock drift",
};

/** A change in a sentence: `bay-1-wall: missed visits rose from 1.1 % to 9.8 % (p = 0.003, adjusted for all comparisons).` */
export function changeText({ signal, against, measure, unit, before, now, adjustedPValue }: Omit<Change, "text">): string {
  const direction = (now ?? 0) > (before ?? 0) ? "rose" : "fell";
  const p = adjustedPValue < 0.0001 ? "p < 0.0001" : `p = ${Number(adjustedPValue.toPrecision(2))}`;
  const who = against === null ? signal : `${signal} against ${against}`;
  return `${who}: ${nouns[measure]} ${direction} from ${amount(before ?? 0, unit)} to ${amount(now ?? 0, unit)} (${p}, adjusted for all comparisons).`;
}

const written: Readonly<Record<string, string>> = { seconds: "s", "seconds per day": "s a day" };

function amount(value: number, unit: string): string {
  if (unit === "share") return `${Number((value * 100).toPrecision(3))} %`;
  if (unit === "metres") return `${Number((value * 100).toFixed(1))} cm`;
  return `${Number(value.toPrecision(3))} ${written[unit] ?? unit}`;
}
