import type { Chance } from "./random.js";
import type { Span, World } from "./world.js";

/** How a stretch of a mechanism is made. */
export interface View {
  /** False: the same site without the fault. */
  readonly faulty: boolean;
  /**
   * True: a month as it is exported and audited. False: the long run, which says how the rule truly does: all seasons, and
   * without what merely keeps an audit from seeing it.
   */
  readonly seen: boolean;
  /** Runs on from month to month. */
  readonly month: number;
}

/** One way in which a rule goes wrong and a history may hide it, or in which a rule is fine and a history slanders it. */
export interface Mechanism {
  readonly id: string;
  /** What is the matter, in a few words. */
  readonly name: string;
  /** What truly happens, and who could tell. */
  readonly truly: string;
  /** The limit that the fault breaks; null: there is no fault of the rule, and it must not be refused. */
  readonly breaks: "wrong" | "missed" | null;
  /** False: the fault has no mild form, so that no limit of twice its size can be set. */
  readonly mild: boolean;
  /** The true figure is so many times the limit; 1.2 if not given. */
  readonly over?: number;
  /** No history of the months seen can show it. */
  readonly unshowable?: boolean;
  /** So many months are looked at one after the other, with the earlier results; cleared if any look clears. 1 if not given. */
  readonly looks?: number;
  build(chance: Chance, span: Span, view: View): World;
}
