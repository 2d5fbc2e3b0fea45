import type { JSX } from "preact";
import type { RuleFinding } from "../../findings/schema.js";
import { amountText, figureText, shareText, type Figure } from "../format.js";

const DAYS_A_YEAR = 365.25;

/** The three numbers that decide most: wrong firings, wanted moments missed, how much was seen. */
export function Deciding({ rule, days }: { rule: RuleFinding; days: number }): JSX.Element {
  const { limit } = rule.wrongPerYear;
  return (
    <dl class="deciding">
      <Number term="Wrong firings a year, unverified taken as wrong" figure={rule.wrongPerYear.unverifiedAsWrong} limit={limit === null ? "no limit set" : `limit ${amountText(limit)} a year`} />
      <Number
        term="Share of wanted moments missed"
        figure={rule.missedShare.all}
        limit={rule.missedShare.limit === null ? "no limit set" : `limit ${shareText(rule.missedShare.limit, 2)}`}
      />
      <div>
        <dt>History it could be judged on</dt>
        <dd>
          <b>{amountText(rule.evidence.yearsSeen * DAYS_A_YEAR)} days</b>
          <small>of {amountText(days)}</small>
          <small>blind {shareText(rule.evidence.blindShare)} of the time</small>
        </dd>
      </div>
    </dl>
  );
}

function Number({ term, figure, limit }: { term: string; figure: Figure; limit: string }): JSX.Element {
  const { value, interval, count, why } = figureText(figure);
  return (
    <div>
      <dt>{term}</dt>
      <dd>
        <b>{value ?? "no value"}</b>
        <small>{value === null ? `${why ?? ""}, ${count}` : `(${interval ?? "no interval"}), ${count}`}</small>
        <small>{limit}</small>
      </dd>
    </div>
  );
}
