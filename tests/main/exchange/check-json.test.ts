import { readFileSync } from "node:fs";
import { afterEach, beforeEach, expect, it } from "vitest";
import type { CheckReport } from "#core/contract/records/exchange.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { uploadBytes } from "./upload.ts";

let bench: TempBench;
let scene: Scene;
let text = "";

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await enterLength(bench, scene, "row-2", "10.0", "31.5");
  const begun = await bench.call("exports.begin", {
    sheetIds: [scene.sheet.id],
    format: "json",
    paper: "A4",
  });
  const exportId = begun?.exportId ?? "";
  let now = await bench.call("exports.status", { exportId });
  while (now.state === "writing") {
    await new Promise((resolve) => setTimeout(resolve, 5));
    now = await bench.call("exports.status", { exportId });
  }
  text = readFileSync(now.file?.path ?? "", "utf8");
});
afterEach(() => bench.end());

async function check(content: string): Promise<CheckReport> {
  const uploadId = await uploadBytes(bench, "sheets.json", Buffer.from(content));
  return bench.call("exchange.check", { uploadId });
}

it("a JSON file is found unchanged, and names the row that was edited", async () => {
  expect(await check(text)).toMatchObject({ verdict: "unchanged", differing: 0, cells: 14 });
  const report = await check(text.replace('"right":"31.5"', '"right":"41.5"'));
  expect(report).toMatchObject({ verdict: "changed", differing: 1 });
  expect(report.differences[0]).toMatchObject({ worksheet: scene.sheet.number, cell: "row 2" });
  expect(report.words).toContain("was edited");
});

it("a JSON file is whole although the bench has gone on", async () => {
  await enterLength(bench, scene, "row-3", "1", "50");
  const report = await check(text);
  expect(report.verdict).toBe("changed");
  expect(report.words).toContain("The file is whole");
  expect(report.differences.map((one) => one.cell)).toEqual(["sheet", "row 3"]);
});

it("a JSON file that is no export is refused", async () => {
  for (const content of ["{", "{}", text.replace('"version":8', '"version":9')]) {
    const uploadId = await uploadBytes(bench, "x.json", Buffer.from(content));
    expect((await bench.refusal("exchange.check", { uploadId })).code).toBe("file.unreadable");
  }
});
