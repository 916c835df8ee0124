import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { tamper } from "../../support/raw-database.ts";
import { rewriteLines } from "../../support/rewritten-trail.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

/*
 * What programs stored before half characters and identifiers of other records were refused. They are laid into the file
 * as those programs left them; nobody has changed anything, so verify has nothing to name.
 */
let bench: TempBench;
let scene: Scene;
let calibrationId: string;
const differences = async () => (await bench.call("trail.verify", {})).differences;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  calibrationId = (await calibrateTrain(bench, scene)).id;
});
afterEach(() => bench.end());

describe("a bench that an earlier program wrote", () => {
  it("with half a character in a label, a note and a name is not called changed", async () => {
    const mark = "half \ufffd";
    const enter = { sheetId: scene.sheet.id, rowId: "row-1", cell: { dimension: "length", edge: "left" } };
    await bench.call("rows.enter", {
      requestId: bench.request(),
      ...enter,
      typed: "23",
      label: mark,
    } as never);
    await bench.call("rows.describe", {
      requestId: bench.request(),
      sheetId: scene.sheet.id,
      rowId: "row-1",
      label: `${mark}, again`,
      note: mark,
    });
    await bench.call("people.register", {
      requestId: bench.request(),
      person: { name: mark, initials: "", interpupillaryMm: "" },
    });
    await bench.program.close();
    let changed = 0;
    rewriteLines(bench.paths.databaseFile, (line) => {
      const detail = line.detail.replaceAll("\ufffd", "\\ud83d");
      if (detail !== line.detail) changed += 1;
      return { ...line, detail };
    });
    await bench.reopen();
    expect(changed).toBeGreaterThanOrEqual(3);
    expect(await differences()).toEqual([]);
    tamper(bench.paths.databaseFile, "UPDATE specimen_row SET note = 'whole now' WHERE id = 'row-1'");
    expect((await differences()).map(({ stored }) => stored)).toEqual(["whole now"]);
  });

  it.each(["sheet", "microscope", "objective", "person", "calibration"] as const)(
    "with a row under the identifier of a %s is not called changed",
    async (kind) => {
      const other = {
        sheet: scene.sheet.id,
        microscope: scene.microscope.id,
        objective: scene.microscope.objectives[0]?.id ?? "",
        person: scene.personId,
        calibration: calibrationId,
      }[kind];
      expect(other).not.toBe("");
      await enterLength(bench, scene, "row-1", "23.0", "51.5");
      await enterLength(bench, scene, "row-2", "10", "30");
      const of = { requestId: bench.request(), sheetId: scene.sheet.id };
      await bench.call("rows.strike", { ...of, rowId: "row-1", reason: "two grains" });
      await bench.program.close();
      tamper(bench.paths.databaseFile, `UPDATE specimen_row SET id = '${other}' WHERE id = 'row-1'`);
      rewriteLines(bench.paths.databaseFile, (line) =>
        line.subjectId === "row-1" ? { ...line, subjectId: other } : line,
      );
      await bench.reopen();
      expect(await differences()).toEqual([]);
      tamper(bench.paths.databaseFile, `UPDATE specimen_row SET label = 'other' WHERE id = '${other}'`);
      expect(await differences()).not.toEqual([]);
    },
  );
});
