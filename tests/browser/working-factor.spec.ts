import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom } from "./bench-window.ts";
import { endWithoutFaults, openPreparedWindow, openSheet } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });
test.beforeEach(async () => {
  program = await startProgram();
});

test("a rounded working factor is put in force by keyboard, and paper prints it with the exact one", async ({
  context,
}) => {
  test.slow();
  const { window, page, person } = await openPreparedWindow(context, program, (at) =>
    readyBench(at, { calibrated: false }),
  );
  await person.go("calibrate");
  await page.getByLabel("Optical train").waitFor();
  await person.press("Control+Enter");
  await page.getByLabel("Setting 1, reticle left").waitFor();
  await person.take("0", "96.4", "0", "100", "0.5", "97.0", "0", "100", "0.2", "96.5", "0", "100");
  const form = page.getByRole("form", { name: "Put in force" });
  await person.activate(form.locator("summary", { hasText: "Working factor …" }));
  // What leaves nothing of the factor is refused at its field, and nothing is put in force.
  await person.fillAll({ "Digits of a working factor": "x", Reason: "the procedure rounds to one decimal" });
  await person.activate(form.getByRole("button", { name: "Put this factor into use" }));
  await expect(page.getByText(/Not saved: 1 field/)).toBeVisible();
  expect((await callFrom(page, "bench.overview", {})).microscopes[0]?.trains[0]?.inForce).toBeNull();
  await person.fill("Digits of a working factor", "1");
  // 1000 µm over 96.4, 96.5 and 96.3 div, by hand: 10.3734 µm/div; 10.4 lies 0.26 % above it.
  await expect(form).toContainText("10.4 in place of 10.3734 µm/div: 0.26 % off");
  await person.activate(form.getByRole("button", { name: "Put this factor into use" }));
  await page.getByRole("heading", { name: "Calibration in force" }).waitFor();

  await openSheet(page, person);
  await person.take("10", "60");
  await person.expectStored(1);
  // 50 div · 10.4 µm/div; with the exact factor it would be 518.7 µm.
  await expect(page.getByRole("region", { name: "Last result" })).toContainText(/520/);
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0001" }));
  const report = page.getByRole("article");
  await expect(report).toContainText(
    /10\.4 .*\(working factor of the procedure; exact 10\.373\d? ± 0\.\d+ µm\/div\)/,
  );
  await expect(report.getByRole("row", { name: /^All .* 1 / })).toContainText("520");
  await seenInBothThemes(page, "report-with-working-factor");
  await endWithoutFaults(window, program);
});
