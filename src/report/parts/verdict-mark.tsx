import type { JSX } from "preact";
import type { Verdict } from "../../result/rules.js";

const shapes: Readonly<Record<Verdict, JSX.Element>> = {
  "clear to enable": (
    <>
      <path class="bar-clear" d="M2 12H26" />
      <path class="post" d="M32 0V24" />
    </>
  ),
  "not proven yet": (
    <>
      <path class="bar-open" d="M2 7H34V17H2Z" />
      <path class="post" d="M16 0V24" />
    </>
  ),
  "do not enable": (
    <>
      <path class="bar-refused" d="M16 7H38V17H16Z" />
      <path class="post" d="M6 0V24" />
    </>
  ),
};

/**
 * A post, the limit, and a bar, the evidence: solid and short of it, hollow and through it, or solid beyond it. The word stands
 * beside it.
 */
export function VerdictMark({ verdict }: { verdict: Verdict }): JSX.Element {
  return (
    <svg class="verdict-mark" width="38" height="24" viewBox="0 0 38 24" aria-hidden="true">
      {shapes[verdict]}
    </svg>
  );
}

/** What classes of a verdict's words say, for their colour. */
export const verdictClass: Readonly<Record<Verdict, string>> = { "clear to enable": "clears", "not proven yet": "open", "do not enable": "breaks" };
