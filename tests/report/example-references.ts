import type { Findings } from "../../src/result/findings.js";
import type { Estimate } from "../../src/result/estimate.js";

type ReferenceModel = Findings["references"][number];

const rate = (value: number, low: number, high: number, count: number): Estimate => ({ value, low, high, count, unit: "share", why: null });
const untold = (why: string): Estimate => ({ value: null, low: null, high: null, count: 0, unit: "share", why });
const ONE_ONLY = "Cannot be told apart: there is one witness only.";

/** One subject whose rates can be told by movements nearby, one whose witnesses are a board's, one with a single witness. */
export const exampleReferences: ReferenceModel[] = [
  {
    subject: "bay-1", segments: 91, diarySegments: 12,
    witnesses: [
      { signal: "bay-1-overhead", votes: 91, saysOnGivenOff: rate(0.0062, 0.0014, 0.0972, 44.8), saysOffGivenOn: rate(0.0314, 0.0044, 0.1738, 46.2), used: { saysOnGivenOff: 0.0062, saysOffGivenOn: 0.0314 } },
      { signal: "bay-1-wall", votes: 88, saysOnGivenOff: rate(0.1111, 0.0452, 0.2493, 43.1), saysOffGivenOn: rate(0.0076, 0.0018, 0.1173, 44.9), used: { saysOnGivenOff: 0.1111, saysOffGivenOn: 0.0076 } },
    ],
    causes: [{ signals: ["bay-1-overhead", "bay-1-wall"], causes: ["board-a"], correlation: 0.41, errorSegments: 3.2, weight: 0.709 }],
    movements: [{ class: "door", givenChange: 0.97, givenNone: 0.04 }, { class: "person", givenChange: 0.56, givenNone: 0.03 }],
    identified: true, why: "Movements of others tell true transitions from false ones (93 percentage points commoner), where two witnesses differ.",
    iterations: 14, gain: 0.0000041, converged: true,
  },
  {
    subject: "mira", segments: 97, diarySegments: 0,
    witnesses: [{ signal: "phone-mira", votes: 97, saysOnGivenOff: untold(ONE_ONLY), saysOffGivenOn: untold(ONE_ONLY), used: { saysOnGivenOff: 0.05, saysOffGivenOn: 0.05 } }],
    causes: [], movements: [], identified: false, why: ONE_ONLY, iterations: 2, gain: 0, converged: true,
  },
];
