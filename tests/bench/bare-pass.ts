/** A bare pass of csv-parse over files, on one thread: every row is parsed and counted, and nothing else. */
import { createReadStream } from "node:fs";
import { parse } from "csv-parse";

let rows = 0;
for (const file of process.argv.slice(2)) {
  const parser = createReadStream(file).pipe(parse());
  await new Promise<void>((resolve, reject) => {
    parser.on("data", () => rows++).on("end", resolve).on("error", reject);
  });
}
process.stdout.write(`${rows} rows\n`);
