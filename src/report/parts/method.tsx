import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import { lengthText, shareText } from "../format.js";
import { SECOND_MS } from "../../ground/units.js";

/** How each figure was computed, what the words mean, and what the evidence cannot show. */
export function Method({ findings }: { findings: Findings }): JSX.Element {
  const { settings, confidence } = findings.site;
  return (
    <>
      <h3>How it was worked out</h3>
      <dl class="method">
        <dt>Interval and count</dt>
        <dd>
          In brackets, the two-sided interval at confidence {shareText(confidence, 2)}; n is how many things were counted. A verdict rests
          on one-sided bounds at the same confidence, so its numbers differ a little from the ends of the intervals.
        </dd>
        <dt>On, off, unknown</dt>
        <dd>
          A signal is unknown while it is silent for longer than expected and after a restart until it speaks again. Unknown is never taken
          for “away” or “closed”: inside a rule it counts as “not so”, so the rule does not fire. A change from unknown to on is not an
          arrival, unless the gap was at most {lengthText(settings.bridgeMs / SECOND_MS)} and the state before it was known to be off. Three
          or more signals of one shared cause that fall silent within {lengthText(settings.restartMs / SECOND_MS)} count as a restart.
        </dd>
        <dt>What most likely was so</dt>
        <dd>
          First the diary; else a two-state hidden Markov model over the stretches between changes, each witness casting one vote a stretch,
          weighted by error rates learnt by expectation-maximisation (after Dawid and Skene 1979). A signal is judged against a reference
          made without it.
        </dd>
        <dt>Share of time agreeing</dt>
        <dd>
          Time in which signal and reference say the same, of the time in which both are known. Wilson’s score interval, with one look a
          stretch rather than one a second; approximate.
        </dd>
        <dt>Visits missed; wanted moments missed</dt>
        <dd>
          Missed, of those that could have been seen. Clopper and Pearson’s exact interval. A wanted moment served late is counted as late,
          not as missed.
        </dd>
        <dt>Phantoms; wrong firings a year</dt>
        <dd>
          Count over the time observed. Garwood’s exact interval for a Poisson count. For a rule, only the time in which its condition was
          known counts as observed. That a rate stays the same all year is taken for granted.
        </dd>
        <dt>Lag, delay</dt>
        <dd>Quantiles of the differences, with intervals from order statistics; where too few were seen for a bound, there is none.</dd>
        <dt>Kappa</dt>
        <dd>Cohen’s kappa: agreement beyond what chance would bring, on shares of time, with the stretches as looks; approximate.</dd>
        <dt>Bays compared</dt>
        <dd>
          Expected from the other bays’ faults, for as many transitions and as much time. Control limits are quantiles of a Poisson count;
          p-values come from the exact comparison of two rates, adjusted for the number of bays after Benjamini and Hochberg.
        </dd>
        <dt>Episode</dt>
        <dd>
          Transitions of the reference at most {lengthText(settings.joinMs / SECOND_MS)} apart, taken together as one arrival or departure.
        </dd>
        <dt>Months still needed</dt>
        <dd>How long the history must become, with no further fault, until the one-sided upper bound meets the limit.</dd>
        <dt>The two roads</dt>
        <dd>
          Counting holds the wrong firings against the time in which one would have been confirmed. Design looks at how often each of two
          parts of the rule, one about vehicles and one about people, held while firing would have been wrong, and works out from it how
          often both do at once: at most, by hours of the day, at confidence {shareText(confidence, 2)} however often one looks. A third of
          the permitted error is kept for what could make both wrong together; that share of the rarer part’s false reports cannot be
          measured, so it is stated in the site file or taken as 1 in 10. The road is open only while each of its conditions holds.
        </dd>
      </dl>
      <h3>What “unverified” means</h3>
      <p>
        A rule is not a witness in its own cause. Its firing is right or wrong only if the diary, or a signal that the rule does not listen
        to, says so. Else it is unverified, and the verdict is worked out twice: taking it as right, and taking it as wrong. “Clear to
        enable” is given only if the limits are met with every unverified firing taken as wrong.
      </p>
      <h3>What this cannot show</h3>
      <ul>
        <li>What no sensor recorded. If all witnesses were wrong together and no diary says otherwise, this report is wrong with them.</li>
        <li>What has not happened yet: another season, another vehicle, another phone, someone who means harm.</li>
        <li>Whether the lock or the door did what it was told. Only the moment of telling is looked at.</li>
        <li>Dependence that the site file does not name. Two signals on one power strip look independent until it says so.</li>
      </ul>
    </>
  );
}
