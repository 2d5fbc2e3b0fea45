import { expect, it } from "vitest";
import { mkdir, mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { siteFolderName } from "../../src/commands/folder-name.js";
import { folderName, folderNameApart } from "../../src/ground/folder-name.js";

it.each([
  ["Heron Lane", "heron-lane"],
  ["  Énorme / Dépôt №4  ", "enorme-depot-no4"],
  ["../../etc/passwd", "etc-passwd"],
  ["<script>alert(1)</script>", "script-alert-1-script"],
  ["🚗🚗", "site-ca78a0"],
  ["車庫", "車庫"],
  ["a".repeat(200), `${"a".repeat(53)}-c2a908`],
])("makes %j one safe folder name", (name, expected) => {
  expect(folderName(name)).toBe(expected);
});

it("tells names apart that look alike as folders, only where it must, and keeps to it", async () => {
  const [one, other] = ["Heron Lane", "heron-lane"];
  const place = await mkdtemp(join(tmpdir(), "keyworthy-names-"));
  expect(await siteFolderName(place, one, [one])).toBe("heron-lane");
  expect(await siteFolderName(join(place, "missing"), one, [one, "Otter Cottage"])).toBe("heron-lane");
  expect(await siteFolderName(place, one, [one, other])).toBe(folderNameApart(one));
  expect(folderNameApart(one)).not.toBe(folderNameApart(other));
  await mkdir(join(place, folderNameApart(other)));
  expect(await siteFolderName(place, other, [other])).toBe(folderNameApart(other));
});
