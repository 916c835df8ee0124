import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { copyWorkBeside } from "#main/loopback/copy-work.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
beforeEach(async () => {
  bench = await tempBench({ copyWork: copyWorkBeside });
});
afterEach(() => bench.end());

it("a copy is checked in a process of its own, which finds a whole one whole and a damaged one damaged", async () => {
  const { fileName } = await bench.call("backups.make", { requestId: bench.request() });
  const copy = join(bench.paths.backupFolder, fileName);
  expect(await copyWorkBeside({ kind: "check", file: copy })).toEqual([]);
  writeFileSync(copy, "no database at all, only a text in its place");
  expect(await copyWorkBeside({ kind: "check", file: copy })).toHaveLength(1);
});
