/** One chart as SVG markup, for a wide page and for a phone. */
export interface Drawing {
  readonly wide: string;
  readonly narrow: string;
}
