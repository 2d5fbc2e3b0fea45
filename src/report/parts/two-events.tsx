import type { JSX } from "preact";
import type { RuleFinding } from "../../result/rules.js";
import { countOf } from "../format.js";
import { closesDesign } from "../right-when-windows.js";
import { rowsAt, type Traced } from "../traced.js";
import { Datum } from "./datum.js";
import { Folded, FoldedList, LeftOut, MOST_TOLD } from "./folded.js";
import { LocalTime } from "./local-time.js";

/** Sentences that stand open; the rest are folded away. */
const MOST_OPEN = 3;

/** Firings that are right by other events than those the rule went by; nothing where there are none. */
export function TwoEvents({ rule }: { rule: Traced<RuleFinding> }): JSX.Element | null {
  const firings = rowsAt(rule, "twoEvents");
  if (firings.length === 0) return null;
  const texts = [...new Set(firings.flatMap(({ of }) => of.rightWhen ?? []))];
  return (
    <>
      <h3>Right by two different events</h3>
      <p>
        <Datum at={rule} path="twoEvents" as="size" /> {firings.length === 1 ? "firing is" : "firings are"} right, though not by what the rule
        went by, or by two events that have nothing to do with each other:
      </p>
      <FoldedList
        open={MOST_OPEN}
        summary={(rest) => `${rest} more`}
        items={firings.slice(0, MOST_TOLD).map(({ of: { at, sentence } }) => (
          <>
            <LocalTime at={at} />: {sentence}
          </>
        ))}
        after={<LeftOut count={firings.length - MOST_TOLD} file="findings.json" />}
      />
      {texts.length === 0 ? null : (
        <Folded summary={`If ${firings.length === 1 ? "it" : "they"} should not count as right: ${countOf(texts.length, "line")} for the site file`}>
          {texts.map((text) => (
            <>
              <p>
                <code>right_when: {text}</code>
              </p>
              {closesDesign(rule.of, text) ? (
                <p>Its windows are too short for the road of design: after an arrival the rule could still fire, on one false report, when that no longer counts as right.</p>
              ) : null}
            </>
          ))}
        </Folded>
      )}
    </>
  );
}
