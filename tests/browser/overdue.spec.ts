import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { calibrate, registerMicrometer } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { Keypad } from "./keypad.ts";
import { openMeasureWindow } from "./measure-window.ts";
import type { ReadyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;

test.beforeEach(async () => {
  program = await startProgram();
});
test.afterEach(() => program.stop());

/** The factor in force rests on a certificate that is past its date. */
async function onAnOldCertificate(page: Page, { trainIds }: ReadyBench): Promise<void> {
  const { micrometerId, certificateId } = await registerMicrometer(
    page,
    { name: "SM 0", serial: "0815" },
    { number: "C-0", calibratedOn: "2018-05-02", dueOn: "2020-05-02" },
  );
  const setting = { reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" };
  const at = { trainId: trainIds[0] ?? "", stageMicrometerId: micrometerId, certificateId };
  await calibrate(page, at, [setting, setting, setting], "first calibration of this train");
}

const question = (page: Page) => page.getByRole("region", { name: "Past its due date" });

test("something overdue is asked about once; the keypad says why, and report and records print it", async ({
  context,
}) => {
  const { page, person, bench } = await openMeasureWindow(context, program, {
    calibrated: false,
    prepare: onAnOldCertificate,
  });
  const pad = await Keypad.of(page);
  await expect(question(page)).toContainText("the certificate of the stage micrometer was due on 2020-05-02");
  await seenInBothThemes(page, "overdue-asked");
  // It stands beside the work: readings go on.
  await pad.type("23.0⏎51.5⏎");
  await person.expectStored(1);
  await pad.type("/0");
  await expect(page.getByRole("dialog", { name: "More" })).toContainText("Say why something overdue is used");
  await pad.type("5");
  const dialog = page.getByRole("dialog", { name: "Used past its due date" });
  await expect(dialog).toContainText("1");
  await expect(dialog.getByRole("textbox", { name: "Reason" })).toBeFocused();
  await pad.type("4");
  await expect(dialog).toHaveCount(0);
  await expect(question(page)).toBeEmpty();
  await pad.type("41⏎61⏎");
  await person.expectStored(2);

  const { sheetId } = bench;
  const { uses } = await callFrom(page, "overdueUses.of", { work: "sheet", workId: sheetId });
  expect(uses).toMatchObject([{ reason: "the customer knows and agrees", certificateDueOn: "2020-05-02" }]);
  const { cautions } = await callFrom(page, "reports.sheet", { sheetId });
  expect(cautions.join(" ")).toContain("“the customer knows and agrees” (Ada Example");
});

test("a reason in other words is typed, kept with the record of the sheet, and not asked for again", async ({
  context,
}) => {
  const { page, person } = await openMeasureWindow(context, program, {
    calibrated: false,
    prepare: onAnOldCertificate,
    rows: "grain\t10\t40",
  });
  await expect(question(page)).not.toBeEmpty();
  await person.press("Alt+u");
  const dialog = page.getByRole("dialog", { name: "Used past its due date" });
  await expect(dialog.getByRole("textbox", { name: "Reason" })).toBeFocused();
  await page.keyboard.type("no");
  await person.press("Enter");
  await expect(dialog).toContainText("Enter a reason in words.");
  await page.keyboard.type(" other slide is in the house");
  await person.press("Enter");
  await expect(dialog).toHaveCount(0);
  await page.reload();
  await page.getByRole("grid").waitFor();
  await expect(question(page)).toBeEmpty();
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Details of S-0001" }));
  await expect(page.getByText("“no other slide is in the house” (Ada Example")).toBeVisible();
});
