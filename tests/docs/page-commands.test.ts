import { describe, expect, it } from "vitest";
import { blocksOf, commandsOf, hidesCommand, namesOf, spansOf } from "./page-commands.js";

describe("what a page tells its reader to run", () => {
  it("is every line of a sh block, joined where it goes on, without prompt and comment", () => {
    expect(commandsOf("Do:\n\n```sh\n# first\n$ keyworthy check site.yaml   # reads\nkeyworthy audit site.yaml \\\n  --month 2026-10\nls\n```\n")).toEqual([
      { form: "line", text: "keyworthy check site.yaml" },
      { form: "line", text: "keyworthy audit site.yaml --month 2026-10" },
      { form: "line", text: "ls" },
    ]);
  });

  it("is a span of the prose that begins with a program or a script of ours, also over a line break", () => {
    expect(commandsOf("Type `npx keyworthy\ncheck site.yaml`, `CI=true npm test` or `tests/batch/kill.sh 50`; `site.yaml`, `--quiet` and `tests/batch/` are no commands.").map(({ text }) => text)).toEqual(["npx keyworthy check site.yaml", "CI=true npm test", "tests/batch/kill.sh 50"]);
  });

  it("is not the bare name of a command", () => {
    const text = "Made by `keyworthy simulate`.";
    expect([commandsOf(text), namesOf(text)]).toEqual([[], ["simulate"]]);
  });

  it("is a script as a whole, and a manifest that starts us", () => {
    const script = "#!/bin/bash\nkeyworthy check site.yaml\n";
    const manifest = "command: [keyworthy, check]\nargs: keyworthy check site.yaml\n";
    expect(commandsOf(`\`\`\`sh\n${script}\`\`\`\n\n\`\`\`yaml\n${manifest}\`\`\`\n\n\`\`\`yaml\nsite: Heron Lane\n\`\`\`\n`)).toEqual([{ form: "script", text: script }, { form: "manifest", text: manifest }]);
  });

  it("is told once, however often it stands there", () => {
    expect(commandsOf("`npm test`, and again `npm test`.")).toHaveLength(1);
  });
});

it("sees a command in a block that is not for commands", () => {
  const [picture, hidden] = blocksOf("```\na ─ b\n```\n\n```\n$ keyworthy check site.yaml\n```\n");
  expect([hidesCommand(picture!), hidesCommand(hidden!)]).toEqual([false, true]);
});

it("finds spans with backticks in them, and none in blocks", () => {
  expect(spansOf("One ``a `b` c`` and `d`.\n\n```sh\necho `e`\n```\n")).toEqual(["a `b` c", "d"]);
});
