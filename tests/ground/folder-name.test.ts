import { expect, it } from "vitest";
import { folderName } from "../../src/ground/folder-name.js";

it.each([
  ["Heron Lane", "heron-lane"],
  ["  Énorme / Dépôt №4  ", "enorme-depot-no4"],
  ["../../etc/passwd", "etc-passwd"],
  ["<script>alert(1)</script>", "script-alert-1-script"],
  ["🚗🚗", "site"],
  ["車庫", "車庫"],
  ["a".repeat(200), "a".repeat(60)],
])("makes %j one safe folder name", (name, expected) => {
  expect(folderName(name)).toBe(expected);
});
