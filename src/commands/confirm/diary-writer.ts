import { DateTime } from "luxon";
import { TAKEN_BACK } from "../../intake/diary-corrections.js";
import { changeFile, type Changed } from "../change-file.js";
import type { DiaryPlace } from "./diary-place.js";
import { withRows, type DiaryRow } from "./diary-text.js";

/** What an answer wrote, to be taken back. */
export interface Written {
  readonly rows: readonly DiaryRow[];
  readonly changed: Changed;
}

/** Writes answers down. After each call the diary is whole on disk. */
export interface DiaryWriter {
  readonly add: (rows: readonly DiaryRow[]) => Promise<Written>;
  /**
   * Takes an answer back: its rows are removed if the file still ends with them as they were written. If somebody changed it
   * since, rows are added that say so.
   */
  readonly takeBack: (written: Written) => Promise<void>;
}

/** Writes into a place; makes it when the first answer comes. `now`: epoch milliseconds. */
export function makeDiaryWriter(place: DiaryPlace, timeZone: string, now: () => number): DiaryWriter {
  const writing = () => ({ file: place.name, timeZone, note: `answered ${DateTime.fromMillis(now(), { zone: timeZone }).toISODate() ?? ""}` });
  let prepared = false;
  return {
    async add(rows) {
      if (!prepared) await place.prepare(writing());
      prepared = true;
      return { rows, changed: await changeFile(place.path, (content) => withRows(content, rows, writing())) };
    },
    async takeBack({ rows, changed: { before, after } }) {
      await changeFile(place.path, (content) => {
        if (content?.equals(after) === true) return before ?? withRows(null, [], writing());
        return withRows(content, rows.filter(({ state }) => state !== TAKEN_BACK).map((row) => ({ ...row, state: TAKEN_BACK })), writing());
      });
    },
  };
}
