import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { checkCopyBeside } from "#main/loopback/check-copy.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
beforeEach(async () => {
  bench = await tempBench({ checkCopy: checkCopyBeside });
});
afterEach(() => bench.end());

it("a copy is checked in a process of its own, which finds a whole one whole and a damaged one damaged", async () => {
  const { fileName } = await bench.call("backups.make", { requestId: bench.request() });
  const copy = join(bench.paths.backupFolder, fileName);
  expect(await checkCopyBeside(copy)).toEqual([]);
  writeFileSync(copy, "no database at all, only a text in its place");
  expect(await checkCopyBeside(copy)).toHaveLength(1);
});
