import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { calibrate, newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { Keypad } from "./keypad.ts";
import { goToSheet, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;

test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

test("the setting of the changer is chosen from the keypad; each row keeps the factor of its own", async ({
  context,
}) => {
  test.slow();
  const { page, person, made } = await openPreparedWindow(context, program, async (at) => {
    const ready = await readyBench(at);
    const { sheet } = await callFrom(at, "sheets.get", { sheetId: ready.sheetId });
    const stand = await callFrom(at, "microscopes.register", {
      requestId: newRequest(),
      microscope: {
        ...{ name: "Stand B", maker: "", model: "", serial: "", headCompensated: true },
        intermediateMagnifications: ["1.25"],
        objectives: [
          { position: 1, magnification: "10", numericalAperture: "0.25", immersion: "dry", serial: "" },
        ],
        eyepieces: [
          {
            ...{ name: "10×/22", magnification: "10", fieldNumber: "22", serial: "" },
            reticle: { engraving: "10/100", scaleLengthMm: "10", divisions: "100" },
          },
        ],
      },
    });
    const { microscopes } = await callFrom(at, "bench.overview", {});
    for (const { train } of microscopes.find((one) => one.microscope.id === stand.id)?.trains ?? []) {
      const lineRight = train.intermediateMagnification === "1" ? "100" : "80";
      const setting = (reticleLeft: string, reticleRight: string) => ({
        ...{ reticleLeft, reticleRight, lineLeft: "0", lineRight },
      });
      await calibrate(
        at,
        {
          trainId: train.id,
          stageMicrometerId: ready.micrometerId,
          certificateId: ready.certificateId,
        },
        [setting("0.0", "96.4"), setting("0.5", "97.0"), setting("0.2", "96.5")],
        "first calibration of this train",
      );
    }
    return callFrom(at, "sheets.open", {
      requestId: newRequest(),
      sheet: {
        ...{ sample: "Sample 8", note: "", methodId: sheet.methodId, microscopeId: stand.id },
        eyepieceId: stand.eyepieces[0]?.id ?? "",
        intermediateMagnification: "1" as never,
        objectiveId: stand.objectives[0]?.id ?? "",
      },
    });
  });
  const pad = await Keypad.of(page);
  await goToSheet(page, person, made.number);
  const objective = page.getByRole("region", { name: "Objective in use" });
  await expect(objective).toContainText("changer 1×");
  await pad.type("⏎");
  await expect(page.getByRole("region", { name: "Confirm the train" })).toBeEmpty();
  await pad.type("10⏎60⏎");
  await person.expectStored(1);

  // Typed at once: the reading before is stored with the setting before, whatever comes after.
  await pad.type("10⏎60⏎/.");
  const dialog = page.getByRole("dialog", { name: "Changer or zoom" });
  await expect(dialog).toContainText("1× in use, ");
  await seenInBothThemes(page, "changer-dialog");
  await pad.type("2");
  await expect(dialog).toHaveCount(0);
  await expect(objective).toContainText("changer 1.25×");
  await pad.type("10⏎60⏎");
  await person.expectStored(3);

  const { rows } = await callFrom(page, "rows.page", { sheetId: made.id, from: 1, count: 3 });
  const sizes = rows.map((row) => Number(row.measurements[0]?.size?.value));
  expect(sizes[1]).toBe(sizes[0]);
  expect((sizes[2] ?? 0) / (sizes[0] ?? 1)).toBeCloseTo(0.8, 6);
  await expect(page.getByRole("grid").getByText("1 · 10× · 1.25×").first()).toBeVisible();
  await expect(page.getByRole("grid").getByText("1 · 10× · 1×").first()).toBeVisible();
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
});
