import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { Drawing } from "../charts/drawing.js";
import { usualText } from "../charts/typical-day-chart.js";
import { countOf } from "../format.js";

/** Who and what is home by hour of an ordinary day, and when their sensors said otherwise. Nothing where there is no drawing. */
export function TypicalDay({ findings, drawing }: { findings: Findings; drawing: Drawing | null }): JSX.Element | null {
  const { typicalDay } = findings;
  if (typicalDay == null || drawing === null) return null;
  const told = typicalDay.subjects.flatMap((one) => usualText(one).map((usual) => `${one.subject} ${usual}`));
  return (
    <figure class="typical-day">
      <figcaption>
        Full height: here every weekday; dashed: at weekends. <i class="key-differed" /> below the line: a sensor said otherwise for two minutes or more.
        {typicalDay.leftOut > 0 && ` ${countOf(typicalDay.leftOut, "person or vehicle is", "people and vehicles are")} left out.`}
      </figcaption>
      <p class="said" id="typical-day-said">A typical weekday by hour. {told.join("; ")}.</p>
      <div class="chart" role="img" aria-labelledby="typical-day-said">
        <div class="wide" dangerouslySetInnerHTML={{ __html: drawing.wide }} />
        <div class="narrow" dangerouslySetInnerHTML={{ __html: drawing.narrow }} />
      </div>
    </figure>
  );
}
