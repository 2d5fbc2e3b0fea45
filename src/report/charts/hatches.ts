/** Ids of the hatchings that the pictures of sensors use; the page defines them once (parts/sensor-hatches.tsx). */
export const HATCH = { unchecked: "unchecked-hatch", expected: "expected-hatch" } as const;
