import { describe, expect, it } from "vitest";
import { alarmCautions } from "../../../src/judge/verdict/alarm-caution.js";
import { is, ruleOf } from "../small-site.js";

describe("the caution about alarms", () => {
  const rule = (name: string, act: "unlock" | "arm" | "disarm"): ReturnType<typeof ruleOf> => ruleOf(is("phone", 1), is("mira", 1), { name, act });

  it("stands wherever a rule arms or disarms", () => {
    const [caution, ...more] = alarmCautions([rule("come home", "disarm"), rule("open", "unlock"), rule("go out", "arm")]);
    expect(more).toEqual([]);
    expect(caution).toBe(
      '“come home”, “go out” act on an alarm. Standards, contracts and insurers may forbid setting or unsetting an alarm automatically, ' +
        "whatever this history shows: ask the installer and the insurer first.",
    );
  });

  it("stands nowhere else", () => {
    expect(alarmCautions([rule("open", "unlock")])).toEqual([]);
  });
});
