import type { CauseGroup } from "./causes.js";
import type { Rates } from "./learn.js";
import type { Nearby } from "./nearby.js";
import type { Observations } from "./observations.js";
import { LEAST_DIARY_SEGMENTS, LEAST_JOINT_SEGMENTS, LEAST_NEARBY_CONTRAST } from "./priors.js";

/** Whether what was seen shows the error rates, and why (not), in words. */
export interface Identification {
  readonly identified: boolean;
  readonly why: string;
  /** What shows them: the diary, three groups of witnesses, or two with movements nearby. */
  readonly by: "diary" | "witnesses" | "movements" | null;
  /** Segments outside the diary may teach error rates too: votes or movements there show who errs. */
  readonly beyondDiary: boolean;
}

/**
 * Two witnesses that differ do not show which of them is wrong, and one never differs from itself; rates must then not
 * be learnt, for the figures would be inventions (five rates from three free counts: Hui & Walter 1980 count them).
 * They can be learnt if the diary knows the truth of enough segments, if three groups without a common cause vote
 * together, or if two do and movements nearby (which need neither) tell true transitions from false ones. `rates` are
 * those learnt with the witnesses' error rates held at the prior.
 */
export function identify(
  observations: Observations,
  groups: readonly CauseGroup[],
  nearby: readonly Nearby[],
  rates: Rates,
): Identification {
  const { kinds, kindCounts } = observations;
  const count = (fits: (kind: (typeof kinds)[number]) => boolean): number =>
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- as many counts as kinds
    kinds.reduce((sum, kind, i) => sum + (fits(kind) ? kindCounts[i]! : 0), 0);
  const speaking = groups.filter(({ members }) => members.some((w) => kinds.some(({ votes }) => votes[w] !== 2)));
  const witnesses = speaking.flatMap(({ members }) => members);
  const yes = (by: NonNullable<Identification["by"]>, why: string, beyondDiary = true): Identification => ({
    identified: true,
    by,
    why,
    beyondDiary,
  });
  const no = (why: string): Identification => ({ identified: false, by: null, beyondDiary: false, why: `Who is right cannot be told: ${why}` });
  if (witnesses.length === 0) return no("no sensor says anything.");

  const joint = count(({ votes }) => speaking.filter(({ members }) => members.some((w) => votes[w] !== 2)).length >= 3);
  const pairs = count(({ votes }) => speaking.filter(({ members }) => members.some((w) => votes[w] !== 2)).length >= 2);
  // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- both shares are lists by class of neighbours
  const contrast = Math.max(0, ...rates.movedGivenChange.map((share, c) => share - rates.movedGivenStay[c]!));
  const told = Math.max(0, ...nearby.map(({ moved }) => moved.reduce((sum, one) => sum + (one === 2 ? 0 : 1), 0)));
  const [byWitnesses, byMovements] = [
    joint >= LEAST_JOINT_SEGMENTS,
    pairs >= LEAST_JOINT_SEGMENTS && told >= LEAST_JOINT_SEGMENTS && contrast >= LEAST_NEARBY_CONTRAST,
  ];

  const inDiary = Math.min(
    ...witnesses.flatMap((w) => [0, 1].map((state) => count(({ votes, written }) => written === state && votes[w] !== 2))),
  );
  if (inDiary >= LEAST_DIARY_SEGMENTS)
    return yes(
      "diary",
      `Your diary covers each sensor in at least ${inDiary} stretches of each state.`,
      byWitnesses || byMovements,
    );
  if (byWitnesses) return yes("witnesses", `Three or more sensors without a common cause speak at once in ${joint} stretches.`);
  const [group, another] = speaking;
  if (group !== undefined && another === undefined) {
    return no(
      group.members.length === 1
        ? "there is only one sensor."
        : group.causes.length === 0
          ? "all sensors were seen to go wrong together."
          : `all sensors depend on ${group.causes.join(", ")}.`,
    );
  }
  if (byMovements)
    return yes(
      "movements",
      `Where two sensors differ, movements of others tell true changes from false ones (they are ${Math.round(contrast * 100)} percentage points more common at true ones).`,
    );
  if (speaking.length >= 3)
    return no(
      `three sensors without a common cause speak at once in only ${joint} stretches, and at least ${LEAST_JOINT_SEGMENTS} are needed.`,
    );
  return no("two sensors without a common cause do not show which of them is wrong when they differ, and nothing else tells.");
}
