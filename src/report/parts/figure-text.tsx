import type { JSX } from "preact";
import { type Figure, figureText } from "../format.js";

/** A figure as it stands in tables: the value, and under it the interval and the count; or why there is no value. */
export function FigureText({ of }: { of: Figure }): JSX.Element {
  const { value, interval, count, unit, why } = figureText(of);
  if (value === null) {
    return (
      <span class="figure-text">
        <span class="none">no value</span>{" "}
        <small>
          {why}, {count}
        </small>
      </span>
    );
  }
  return (
    <span class="figure-text">
      <b>
        {value}
        {unit}
      </b>{" "}
      <small {...(/[a-z]/.test(interval ?? "") ? { class: "loose" } : {})}>({interval}), </small>
      <small>
        {count}
        {why === null ? "" : `; ${why}`}
      </small>
    </span>
  );
}
