import type { JSX } from "preact";
import { type Figure, figureText, inPerCent } from "../format.js";
import { plainText } from "./datum.js";

interface Properties {
  readonly of: Figure;
  /** Where the figure stands in findings.json, `signals.3.agreement`. */
  readonly from: string;
  /** Leaves the unit to the head of the column. */
  readonly bare?: boolean;
  /** Writes a share in per cent. */
  readonly perCent?: boolean;
}

/**
 * A figure as it stands in tables: the value, and under it the interval and the count; or why there is no value.
 * Its text is what `figureLine` writes.
 */
export function FigureText({ of, from, bare = false, perCent = false }: Properties): JSX.Element {
  const { value, interval, count, unit, why } = figureText(bare ? { ...of, unit: "" } : perCent ? inPerCent(of) : of);
  const as = bare ? "figure without unit" : perCent ? "figure in per cent" : "figure";
  return (
    <data class="figure-text" value={plainText(of, "figure")} data-from={from} data-as={as}>
      {value === null ? (
        <>
          <span class="none">no value:</span>{" "}
          <small>
            {why}, {count}
          </small>
        </>
      ) : (
        <>
          <b>
            {value}
            {unit}
          </b>{" "}
          <small {...(/[a-z]/.test(interval ?? "") ? { class: "loose" } : {})}>({interval}), </small>
          <small>
            {count}
            {why === null ? "" : `; ${why}`}
          </small>
        </>
      )}
    </data>
  );
}
