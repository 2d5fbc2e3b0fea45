/** How late a signal tells what its subject did, in milliseconds; negative when it tells early. */
export interface Lag {
  readonly leastMs: number;
  readonly mostMs: number;
}

/** The usual lags of signals, by id; a signal whose lag was never measured is not in it. */
export type SignalLags = ReadonlyMap<string, Lag>;
