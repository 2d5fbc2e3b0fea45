import { expect, test } from "vitest";
import { diaryConflicts } from "../../../src/compare/signals/diary-conflicts.js";
import { accountOf, accountsOf, MINUTE, minutes, signal, siteWith, subject, type MinuteSteps } from "../../truth/episodes/small-site.js";

const site = siteWith([subject("bay-1", "bay")], [signal("wall", "bay-1")]);
const entry = { subject: "bay-1", state: 1 as const, from: 100 * MINUTE, to: 400 * MINUTE, file: "diary.csv", line: 7 };
const conflicts = (wall: MinuteSteps, diary = [entry]) => diaryConflicts(site, accountsOf(accountOf("wall", minutes(1000, wall))), diary, { from: 0, to: 1000 * MINUTE });

test("a signal that contradicts an entry is told: who, what, from, to, and where the entry stands", () => {
  expect(conflicts([[0, 0], [100, 1], [200, 0], [260, 1], [400, 0]])).toEqual({
    count: 1, brief: 0, hours: 1,
    list: [{ signal: "wall", subject: "bay-1", said: "off", from: 200 * MINUTE, to: 260 * MINUTE, file: "diary.csv", line: 7 }],
  });
});

test("what is late or early by no more than the joining time is lag", () => {
  expect(conflicts([[0, 0], [109, 1], [391, 0]]).count).toBe(0);
  expect(conflicts([[0, 0], [111, 1], [400, 0]]).count).toBe(1);
});

test("silence contradicts nobody", () => {
  expect(conflicts([[0, 0], [90, 2], [500, 0]]).count).toBe(0);
});

test("a signal that never saw the visit contradicts all of it", () => {
  expect(conflicts([[0, 0]]).list).toMatchObject([{ from: 100 * MINUTE, to: 400 * MINUTE }]);
});

test("entries outside the period and of other subjects say nothing", () => {
  expect(conflicts([[0, 0]], [{ ...entry, from: 2000 * MINUTE, to: 3000 * MINUTE }, { ...entry, subject: "bay-2" }]).count).toBe(0);
});

test("a moment's flicker counts as brief; the longest comes first", () => {
  const found = conflicts([[0, 0], [100, 1], [150, 0], [151, 1], [200, 0], [230, 1], [400, 0]]);
  expect(found).toMatchObject({ count: 2, brief: 1 });
  expect(found.list[0]!.from).toBe(200 * MINUTE);
});
