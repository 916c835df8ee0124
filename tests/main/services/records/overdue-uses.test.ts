import { afterEach, beforeEach, describe, expect, it } from "vitest";
import {
  buildScene,
  calibrateTrain,
  enterLength,
  newCertificate,
  type Scene,
} from "../../../support/bench-scenes.ts";
import { openCount } from "../../../support/count-scene.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

const aYearLater = () => bench.clock.set("2027-06-01T09:00:00.000Z");
const onSheet = () => ({ work: "sheet" as const, workId: scene.sheet.id });
const reason = "the customer knows and agrees";
const cautions = async () =>
  (await bench.call("reports.sheet", { sheetId: scene.sheet.id })).cautions.filter((line) =>
    /overdue|past its due date/i.test(line),
  );

describe("something overdue, used knowingly", () => {
  it("is not asked about while nothing is past its date, nor on the very day", async () => {
    expect(await bench.call("overdueUses.of", onSheet())).toEqual({ uses: [], asked: null });
    bench.clock.set("2027-03-01T09:00:00.000Z");
    expect((await bench.call("overdueUses.of", onSheet())).asked).toBeNull();
    expect(
      await bench.refusal("overdueUses.record", { requestId: bench.request(), ...onSheet(), reason }),
    ).toMatchObject({ code: "overdue.nothing" });
  });

  it("is asked once for a sheet, kept with who and why, and known to trail and verify", async () => {
    aYearLater();
    const { asked } = await bench.call("overdueUses.of", onSheet());
    expect(asked).toMatchObject({ calibrationDueOn: "2027-03-01", certificateDueOn: null });
    const input = { requestId: bench.request(), ...onSheet(), reason };
    const made = await bench.call("overdueUses.record", input);
    expect(made).toMatchObject({ ...onSheet(), ...asked, reason, by: scene.personId });
    expect(await bench.call("overdueUses.record", input), "a repeated request").toEqual(made);
    expect(await bench.call("overdueUses.of", onSheet())).toEqual({ uses: [made], asked: null });
    const { differences } = await bench.call("trail.verify", {});
    expect(differences).toEqual([]);
  });

  it("asks again when the certificate is past its date as well, and on another sheet", async () => {
    aYearLater();
    await bench.call("overdueUses.record", { requestId: bench.request(), ...onSheet(), reason });
    bench.clock.set("2030-07-01T09:00:00.000Z");
    expect((await bench.call("overdueUses.of", onSheet())).asked).toMatchObject({
      calibrationDueOn: "2027-03-01",
      certificateDueOn: "2030-06-01",
    });
    const { id: _, number: __, ...opened } = scene.sheet;
    const other = await bench.call("sheets.open", {
      requestId: bench.request(),
      sheet: {
        sample: "Another",
        note: "",
        methodId: opened.methodId,
        microscopeId: opened.microscopeId,
        eyepieceId: opened.eyepieceId,
        intermediateMagnification: opened.intermediateMagnification,
        objectiveId: opened.objectiveId,
      },
    });
    expect((await bench.call("overdueUses.of", { work: "sheet", workId: other.id })).asked).not.toBeNull();
  });

  it("asks nothing on a closed sheet", async () => {
    await enterLength(bench, scene, "row-1", "10", "40");
    await bench.call("sheets.close", { requestId: bench.request(), sheetId: scene.sheet.id, words: "" });
    aYearLater();
    expect((await bench.call("overdueUses.of", onSheet())).asked).toBeNull();
  });

  it("stands in the report beside the results; without it the report says that nobody has said why", async () => {
    await enterLength(bench, scene, "row-1", "10", "40");
    expect(await cautions()).toEqual([]);
    aYearLater();
    await enterLength(bench, scene, "row-2", "10", "40");
    expect(await cautions()).toContain("Why something overdue was used all the same, nobody has said.");
    await bench.call("overdueUses.record", { requestId: bench.request(), ...onSheet(), reason });
    expect(await cautions()).toContain(
      "Used knowingly past its due date: the calibration was due on 2027-03-01. “the customer knows and agrees” (Ada Example, 2027-06-01).",
    );
  });

  it("belongs to a count while it is open", async () => {
    const count = await openCount(bench, scene);
    const work = { work: "count" as const, workId: count.id };
    expect((await bench.call("overdueUses.of", work)).asked).toBeNull();
    aYearLater();
    await bench.call("overdueUses.record", { requestId: bench.request(), ...work, reason });
    expect(await bench.call("overdueUses.of", work)).toMatchObject({ asked: null, uses: [{ reason }] });
  });

  it("belongs to a calibration that is made with an overdue certificate, and to what is measured by it", async () => {
    const certificate = await bench.call("certificates.register", {
      requestId: bench.request(),
      certificate: {
        ...newCertificate(scene.micrometer.id),
        number: "C-0",
        calibratedOn: "2020-01-01",
        dueOn: "2025-01-01",
      },
    });
    const calibrations = async () => bench.call("calibrations.list", { trainId: null });
    const draft = await bench.call("calibrations.begin", {
      requestId: bench.request(),
      calibration: {
        trainId: (await calibrations())[0]?.trainId ?? "",
        stageMicrometerId: scene.micrometer.id,
        certificateId: certificate.id,
      },
    });
    const work = { work: "calibration" as const, workId: draft.id };
    expect((await bench.call("overdueUses.of", work)).asked).toEqual({
      calibrationId: draft.id,
      calibrationDueOn: null,
      certificateDueOn: "2025-01-01",
    });
    await bench.call("overdueUses.record", { requestId: bench.request(), ...work, reason });
    await calibrateTrain(bench, { ...scene, certificate });
    await enterLength(bench, scene, "row-1", "10", "40");
    expect(await cautions()).toContainEqual(
      expect.stringContaining("the certificate of the stage micrometer was due on 2025-01-01"),
    );
  });

  it("that was changed or taken away behind the program's back is named by verify", async () => {
    aYearLater();
    await bench.call("overdueUses.record", { requestId: bench.request(), ...onSheet(), reason });
    await bench.program.close();
    tamper(bench.paths.databaseFile, "UPDATE overdue_use SET reason = 'nobody minds'");
    await bench.reopen();
    const { differences } = await bench.call("trail.verify", {});
    expect(JSON.stringify(differences)).toContain(`overdue use for sheet ${scene.sheet.id}`);
  });
});
