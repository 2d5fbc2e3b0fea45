/** Settings of a comparison, both taken from the site: how far apart turns may lie, and which gaps are bridged. */
export interface CompareSettings {
  readonly joinMs: number;
  readonly bridgeMs: number;
}
