import { z } from "zod";
import { basis, instant, type Shape } from "./values.js";

/** How one signal behaved in one episode. */
export const participantSchema = z.strictObject({
  signal: z.string(),
  subject: z.string(),
  outcome: z.enum(["agreed", "late", "early", "missed", "fragmented", "unknown"]),
  /** Positive: the signal turned after the reference did. */
  lagSeconds: z.number().nullable(),
});

/** One arrival or departure. */
export const episodeSchema = z.strictObject({
  /** `A001`, `D001`…: numbered by anchor within its kind. */
  id: z.string(),
  kind: z.enum(["arrival", "departure"]),
  anchor: instant,
  anchorSubject: z.string(),
  from: instant,
  to: instant,
  subjects: z.array(z.string()),
  /** The weaker basis of the two sides of the anchor's transition. */
  basis,
  participants: z.array(participantSchema),
});

/** A stretch in which a signal said on (or off) and the reference knew better, outside all episodes. */
export const phantomSchema = z.strictObject({
  signal: z.string(),
  subject: z.string(),
  said: z.enum(["on", "off"]),
  from: instant,
  to: instant,
});


/** {@link participantSchema} as a type. */
export type Participant = Shape<typeof participantSchema>;
/** {@link episodeSchema} as a type. */
export type Episode = Shape<typeof episodeSchema>;
/** {@link phantomSchema} as a type. */
export type Phantom = Shape<typeof phantomSchema>;

/** How a signal behaved at the transition of its subject in an episode. */
export type ParticipantOutcome = Participant["outcome"];
