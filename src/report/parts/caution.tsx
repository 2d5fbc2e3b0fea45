import type { JSX } from "preact";

/** What the report is not. The first screen links here. */
export function Caution(): JSX.Element {
  return (
    <section class="caution" id="caution" aria-labelledby="caution-heading">
      <h2 id="caution-heading">Before you act on this</h2>
      <p>
        <strong>This is evidence about logs, not a safety certificate.</strong> Unlocking and disarming affect the safety of people and
        property. Follow local codes, the instructions of the makers of the lock, the door and the alarm, and your insurer’s terms. Leave
        installation to licensed trades. Keep a manual way in and out.
      </p>
    </section>
  );
}
