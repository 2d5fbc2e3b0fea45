/** What was counted of one unit, and its exposure: what the rate of all units together would bring it. */
export interface Counted {
  readonly count: number;
  readonly exposure: number;
}
