import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { draftSite } from "../../src/draft/draft-site.js";
import { sampleExports } from "../../src/intake/sample-exports.js";
import { readExports } from "../../src/intake/read-exports.js";
import { settlePeriod } from "../../src/intake/period.js";
import { makeReferenceBook } from "../../src/truth/reference/book.js";
import { scoreSignals } from "../../src/compare/signals/signals.js";
import { signalAccounts } from "../../src/truth/signals/accounts.js";
import { loadSite } from "../../src/site/load.js";
import { parseSite } from "../../src/site/parse.js";
import type { SignalSpec, Site } from "../../src/site/site.js";

/** Where a signal's readings come from: what a drafted and a hand-written signal have in common, whatever their names. */
function origin(site: Site, { source: id, channel, id: signal }: SignalSpec): string {
  const source = site.sources.find((one) => one.id === id)!;
  if (source.layout.form === "long") return `${source.timeColumn}/${channel}`;
  return `${source.timeColumn}/${JSON.stringify(source.layout.columns.get(signal))}`;
}

/** The steps of an audit up to the scores of signals, without a diary. */
async function scored(site: Site, month: string) {
  const { readings, ledger } = await readExports(site, { onSetAside: () => undefined });
  const { period } = settlePeriod(site, readings, { form: "month", month });
  const accounts = signalAccounts(site, readings, period);
  const book = makeReferenceBook(site, accounts, [], period);
  return { ledger, signals: scoreSignals(site, accounts, book, period) };
}

/**
 * Draft and hand-written file are both scored without the diary: a draft cannot know it.
 * What is compared is exact: where the draft's bands differ a little from the hand-written ones, no reading lies between.
 */
describe.each([
  { folder: "household", month: "2026-10", zone: "Europe/London" },
  { folder: "yard", month: "2026-03", zone: "America/New_York" },
])("a draft of the sample exports: $folder", ({ folder, month, zone }) => {
  const path = join(import.meta.dirname, "../../sample-data", folder);

  it("leaves one thing open, and reaches the scores of the hand-written site file", { timeout: 60_000 }, async () => {
    const draft = draftSite((await sampleExports(["exports/*"], path, () => undefined)).samples, { site: folder, file: "draft.yaml" });
    expect(draft.open).toEqual([expect.stringMatching(/^in which time zone is the site\?/)]);
    expect(draft.problems).toEqual([]);
    // The one marked place, filled in.
    const complete = draft.yaml.replace(/^timezone: .*$/m, `timezone: ${zone}`);
    // Every meter is given the readings of its empty bay, clear of its band; the hand-written files do without.
    const meters = parseSite(complete, "draft.yaml", path).signals.filter(({ kind }) => kind === "distance");
    for (const { id, band } of meters) expect(band?.empty?.[0]?.nearMetres, id).toBeGreaterThan(band!.farMetres + band!.slackMetres);
    const filled = complete.replaceAll(/^ {4}empty: \[\d.*\n/gm, "");
    const drafted = parseSite(filled, "draft.yaml", path);
    const written = await loadSite(join(path, "site.yaml"));
    const [ours, theirs] = [await scored(drafted, month), await scored(written, month)];

    // The same rows are used and set aside.
    expect(ours.ledger.map(({ file, read, accepted, duplicate, setAside }) => ({ file, read, accepted, duplicate, setAside })).sort((a, b) => (a.file < b.file ? -1 : 1))).toEqual(
      theirs.ledger.map(({ file, read, accepted, duplicate, setAside }) => ({ file, read, accepted, duplicate, setAside })).sort((a, b) => (a.file < b.file ? -1 : 1)),
    );
    expect(drafted.signals).toHaveLength(written.signals.length);
    for (const spec of written.signals) {
      const own = drafted.signals.find((one) => origin(drafted, one) === origin(written, spec))!;
      const [a, b] = [ours.signals.find(({ signal }) => signal === own.id)!, theirs.signals.find(({ signal }) => signal === spec.id)!];
      const figures = ({ agreement, agreementGivenOn, agreementGivenOff, transitions, missedShare, phantomRate, lagOn, lagOff, knownShare, silences, flaps, readings }: typeof a) => ({ agreement, agreementGivenOn, agreementGivenOff, transitions, missedShare, phantomRate, lagOn, lagOff, knownShare, silences, flaps, readings });
      expect(figures(a), `${own.id} as ${spec.id}`).toEqual(figures(b));
      expect(own.expectMs, own.id).toBe(spec.expectMs);
    }
    // Signals stand together on the same subjects.
    const groups = (site: Site) => site.subjects.map(({ id, class: subjectClass }) => `${subjectClass}: ${site.signals.filter(({ subject }) => subject === id).map((signal) => origin(site, signal)).sort().join(" ")}`).sort();
    expect(groups(drafted)).toEqual(groups(written));
  });
});

describe("shared causes of the sample exports", () => {
  it("are found where something planted restarted, with only signals that do share it", { timeout: 60_000 }, async () => {
    for (const folder of ["household", "yard"]) {
      const path = join(import.meta.dirname, "../../sample-data", folder);
      const draft = draftSite((await sampleExports(["exports/*"], path, () => undefined)).samples, { site: folder, file: "draft.yaml" });
      const drafted = parseSite(draft.yaml, "draft.yaml", path);
      const written = await loadSite(join(path, "site.yaml"));
      const truly = new Map(written.signals.map((signal) => [origin(written, signal), signal.shares]));
      const causes = [...new Set(drafted.signals.flatMap(({ shares }) => shares))];
      expect(causes.length).toBe(folder === "household" ? 2 : 3);
      for (const cause of causes) {
        const lists = drafted.signals.filter(({ shares }) => shares.includes(cause)).map((signal) => truly.get(origin(drafted, signal))!);
        expect(lists.length).toBeGreaterThanOrEqual(2);
        expect(lists[0]!.filter((name) => lists.every((list) => list.includes(name))), cause).toHaveLength(1);
      }
    }
  });
});
