import type { JSX } from "preact";

/** A name someone chose: set apart from the sentence around it, in its own direction of writing. */
export function Name({ of }: { of: string }): JSX.Element {
  return <bdi>{of}</bdi>;
}

/** Names in a row, with commas; "none" for no names. */
export function Names({ of }: { of: readonly string[] }): JSX.Element {
  if (of.length === 0) return <>none</>;
  return (
    <>
      {of.map((name, index) => (
        <>
          {index > 0 ? ", " : ""}
          <Name of={name} />
        </>
      ))}
    </>
  );
}
