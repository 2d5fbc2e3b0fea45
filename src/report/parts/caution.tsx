import type { JSX } from "preact";

/** What the report is not. It stands on every report, before any verdict. */
export function Caution(): JSX.Element {
  return (
    <div class="caution">
      <p>
        <strong>This is evidence about logs, not a safety certificate.</strong> Unlocking and disarming affect the safety of people and
        property.
      </p>
      <p>
        Follow local codes, the instructions of the makers of the lock, the door and the alarm, and your insurer’s terms. Leave installation
        to licensed trades. Keep a manual way in and out.
      </p>
    </div>
  );
}
