import type { Proposal, ProposalFigures, RuleProposals } from "../../src/result/proposals.js";

const figures = (more: Partial<ProposalFigures>): ProposalFigures => ({
  firings: 24, wrong: 0, looksWrong: 0, unclear: 0, wanted: 23, late: 0, missed: 0,
  wrongPerYear: { value: 0, low: 0, high: 108.3, count: 0, unit: "per year", why: null },
  missedShare: { value: 0, low: 0, high: 0.1482, count: 23, unit: "share", why: null },
  delay: { value: 41, low: 33, high: 52, count: 23, unit: "seconds", why: null },
  ...more,
});

const poor = figures({ late: 1, missed: 6, missedShare: { value: 0.3043, low: 0.1321, high: 0.5292, count: 23, unit: "share", why: null } });

const proposal: Proposal = {
  yaml: '  - name: "unlock on arrival, proposed (2)"\n    act: unlock\n    when: { all: [ { signal: bay-1-wall, turned: occupied, within: 3min }, { signal: phone-mira, turned: here, within: 10min } ] }\n    rest: 5min\n',
  condition: "bay-1-wall turned occupied within 3 min and phone-mira turned here within 10 min",
  groups: 2,
  conditions: 2,
  train: figures({ firings: 33, wanted: 31 }),
  heldOut: figures({}),
  gap: "It cannot act wrongly while every sensor tells the truth.",
  byDesignPerYear: 7.21,
  rightWhenNote: null,
  moments: [
    { at: Date.parse("2026-10-20T16:17:00.000Z"), was: "missed", becomes: "in time" },
    { at: Date.parse("2026-10-27T18:02:30.000Z"), was: "late", becomes: "late" },
  ],
  mended: { wrong: 0, wrongOf: 0, missed: 14, missedOf: 17 },
  reason: "longer windows",
  why: "The present rule forgets too soon: at 12 of the 14 moments that it mends yard-door-rail had told up to 6 min 2 s before the last report came, and it looks back only 3 min.",
};

/** One rule with a proposal, one without. */
export const exampleProposals: readonly RuleProposals[] = [
  {
    rule: "unlock on arrival", act: "unlock", splitAt: Date.parse("2026-10-19T13:24:00.000Z"), tried: 104, lookedAt: 2,
    present: { train: poor, heldOut: poor }, proposals: [proposal],
    why: "1 rule was better than the present one on both parts of the history, of 104 tried.",
  },
  {
    rule: "unlock when the van is back", act: "unlock", splitAt: Date.parse("2026-10-19T13:24:00.000Z"), tried: 120, lookedAt: 0,
    present: { train: figures({}), heldOut: figures({}) }, proposals: [],
    why: "Nothing better was found. On the first part of the history the present rule made no mistake, so none of 120 others could do better there.",
  },
];
