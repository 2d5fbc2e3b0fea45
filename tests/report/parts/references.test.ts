import { render } from "preact-render-to-string";
import { h } from "preact";
import { describe, expect, it } from "vitest";
import { References } from "../../../src/report/parts/references.js";
import { exampleFindings } from "../example-findings.js";

const htmlOf = (references = exampleFindings.references): string => render(h(References, { findings: { ...exampleFindings, references } }));
const textOf = (references = exampleFindings.references): string => htmlOf(references).replace(/<[^>]*>/g, "");
const [bay] = exampleFindings.references;

describe("what the references rest on", () => {
  it("says of witnesses that cannot be told apart that they cannot, and why", () => {
    expect(textOf()).toContain("cannot be told apartCannot be told apart: there is one witness only.");
  });

  it("says that signals with a shared cause are not two witnesses, and what their voices weigh", () => {
    expect(textOf()).toContain("These two share board-a: they are not two witnesses. bay-1-overhead, bay-1-wall: when all of them speak, each voice weighs 0.709 of a full one.");
    const three = { ...bay!.causes[0]!, signals: ["bay-1-overhead", "bay-1-wall", "bay-1-post"] };
    expect(textOf([{ ...bay!, causes: [three] }])).toContain("These 3 share board-a: they are not as many witnesses.");
  });

  it("gives each error rate with its interval, or why there is none, beside what the model worked with", () => {
    const page = textOf();
    expect(page).toMatch(/0\.111? \(0\.0\d+–0\.\d+\)/);
    expect(page).toContain("no value: Cannot be told apart: there is one witness only.");
    expect(page).toContain("0.050");
  });

  it("says that a model did not settle", () => {
    expect(textOf()).not.toContain("did not settle");
    expect(textOf([{ ...bay!, converged: false }])).toContain("the model did not settle");
  });

  it("folds a fleet's", () => {
    expect(htmlOf(Array.from({ length: 13 }, () => bay!))).toContain("<summary>All 13 subjects</summary>");
  });
});
