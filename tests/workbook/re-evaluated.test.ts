import { afterAll, beforeAll, expect, it, vi } from "vitest";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../support/bench-scenes.ts";
import { workbookOf } from "../support/finished-export.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { correctCertificate, reevaluateWith } from "../support/traceability-scenes.ts";
import { readBook } from "./other-programs.ts";

vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

let bench: TempBench;
let scene: Scene;

beforeAll(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await enterLength(bench, scene, "row-2", "40", "70");
  const corrected = await correctCertificate(bench, scene);
  bench.clock.set("2026-03-09T09:00:00.000Z");
  await reevaluateWith(bench, scene, corrected);
  bench.clock.set("2026-03-10T09:00:00.000Z");
  await enter(bench, scene, "row-2", { dimension: "length", edge: "right" }, "71");
});
afterAll(() => bench.end());

it("Amendments lists a re-evaluation with reason, person and date, and each row with what it was and became", async () => {
  const file = await workbookOf(bench, scene.sheet.id, "values");
  const cells = readBook(file?.path ?? "").sheets.Amendments?.cells ?? {};
  const lines = [2, 3, 4, 5, 6].map((row) =>
    ["B", "C", "D", "E", "G", "H"].map((column) => cells[`${column}${row}`]?.value ?? null),
  );
  const at = { date: expect.stringMatching(/^2026-03-09T09:00:00/) };
  const why = "the certificate was corrected";
  expect(lines.map((line) => line.slice(0, 5))).toEqual([
    [at, "Ada Example", "sheets.reevaluated", null, why],
    [{ date: expect.stringMatching(/^2026-03-10T09:00:00/) }, "Ada Example", "rows.amend", 2, null],
    [at, "Ada Example", "reevaluations.slice", 1, why],
    [at, "Ada Example", "reevaluations.slice", 2, why],
    [null, null, null, null, null],
  ]);
  // 28.5 div × 1000/96.4 and × 1004/96.4 µm. Invented inputs. Row 2 was read again later: its own line tells what it became.
  expect(String(lines[2]?.[5])).toMatch(/"size":\{"from":"295\.6 ± \d\.\d","to":"296\.8 ± \d\.\d"\}/);
  expect(String(lines[3]?.[5])).toMatch(/"size":\{"from":"311\.2 ± \d\.\d"\}/);
});
