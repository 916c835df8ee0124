import { afterEach, beforeEach, expect, it } from "vitest";
import { createChangeLog } from "#main/dispatch/change-log.ts";
import { randomIds } from "#main/ports/ids.ts";
import { withSheetBundle } from "#main/services/transfer/sheet-bundle.ts";
import type { Deps } from "#main/services/write-context/deps.ts";
import { openBench } from "#main/store/bench-file/open.ts";
import {
  buildScene,
  calibrateTrain,
  enter,
  enterLength,
  type Scene,
  trainOfPosition,
} from "../../../support/bench-scenes.ts";
import { fixedClock } from "../../../support/fixed-clock.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

const ROWS = 1203;
let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

/** The services' own view of the bench, after the program that wrote it has closed. */
async function withDeps<T>(use: (deps: Deps) => Promise<T>): Promise<T> {
  await bench.program.close();
  const { paths } = bench;
  const clock = fixedClock("2026-03-03T09:00:00.000Z");
  const opened = await openBench({ paths, clock, host: "test" });
  try {
    return await use({
      db: opened.db,
      snapshot: opened.snapshot,
      clock,
      ids: randomIds,
      paths,
      program: { name: "Linefall", version: "9", host: "loopback" },
      demo: false,
      notices: [],
      downloadAddress: () => null,
      background: () => undefined,
      changes: createChangeLog("test"),
      fault: () => "F-0000",
      restore: () => Promise.resolve(""),
      chooseExportPath: null,
      copyWork: async () => [],
      signer: null,
      printToPdf: null,
      showInFolder: null,
      openDemo: null,
      faultsSoFar: () => [],
    });
  } finally {
    opened.close();
  }
}

it("lends every row in order, page by page, and may be walked twice", async () => {
  for (let row = 1; row <= ROWS; row += 1) {
    await enter(bench, scene, `row-${row}`, { dimension: "width", edge: "left" }, String(row % 90));
  }
  await withDeps((deps) =>
    withSheetBundle(deps, scene.sheet.id, async ({ rows, sheet }) => {
      expect(sheet.rowCount).toBe(ROWS);
      for (let walk = 0; walk < 2; walk += 1) {
        expect([...rows()].map((row) => row.ordinal)).toEqual(Array.from({ length: ROWS }, (_, i) => i + 1));
      }
    }),
  );
});

it("holds what its rows rest on, and what was amended", async () => {
  const low = await calibrateTrain(bench, scene);
  await calibrateTrain(bench, scene, { position: 2, right: "100", lineRight: "25" });
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await enter(bench, scene, "row-1", { dimension: "length", edge: "right" }, "61");
  await enterLength(bench, scene, "row-2", "10", "60");
  const at = { sheetId: scene.sheet.id, rowId: "row-2" };
  await bench.call("rows.strike", { requestId: bench.request(), ...at, reason: "two grains" });
  await bench.call("sheets.chooseObjective", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    objectiveId: trainOfPosition(scene, 2).objectiveId,
  });
  await withDeps((deps) =>
    withSheetBundle(deps, scene.sheet.id, async (bundle) => {
      expect(bundle.calibrations.map((one) => one.id)).toEqual([low.id]);
      expect(new Set(bundle.trains.map((one) => one.id))).toEqual(new Set(scene.trains.map((one) => one.id)));
      expect(
        bundle.stageMicrometers.map((one) => one.certificates.map((certificate) => certificate.id)),
      ).toEqual([[scene.certificate.id]]);
      expect(bundle.amendments.map((line) => [line.act, line.subjectId, line.reason])).toEqual([
        ["rows.amend", "row-1", null],
        ["rows.strike", "row-2", "two grains"],
      ]);
      expect(bundle.people.map((one) => one.id)).toEqual([scene.personId]);
      expect(bundle).toMatchObject({
        method: { id: scene.methodId },
        microscope: { id: scene.microscope.id },
        program: { name: "Linefall", version: "9" },
        asOf: expect.stringMatching(/^2026-03-03T09:00:00/),
      });
    }),
  );
});

it("is refused for a sheet that is not there", async () => {
  await withDeps((deps) =>
    expect(withSheetBundle(deps, "none", async () => 1)).rejects.toMatchObject({ code: "sheet.unknown" }),
  );
});
