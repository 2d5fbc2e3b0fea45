/**
 * A figure with its interval. Unknown is null with a reason, never a fake 0.
 * `low`/`high` are a two-sided interval at the site's confidence unless the docstring of the maker says otherwise.
 */
export interface Estimate {
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** How many things were counted: trials for a share, events for a rate, values for a quantile. */
  readonly count: number;
  /** Of a share: successes; of a rate: events. Absent from other figures. */
  readonly hits?: number | undefined;
  /** What the hits were counted over: trials of a share, time of a rate in what its unit counts by. Absent from other figures. */
  readonly exposure?: number | undefined;
  /** `share`, `per year`, `per 30 days`, `seconds`, `kappa`… */
  readonly unit: string;
  /** Why there is no value or no bound; null otherwise. */
  readonly why: string | null;
}
