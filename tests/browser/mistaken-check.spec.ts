import { expect, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { calibrate } from "./bench-acts.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

let program: LoopbackProgram;
test.beforeAll(async () => {
  program = await startLoopbackProgram();
});
test.afterAll(() => program.stop());

test("a 40× checked as the 100× is named as such, and withdrawn the check is without consequence, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.address);
  const person = new KeyboardPerson(page);
  const bench = await readyBench(page);
  const at = (place: number) => ({
    trainId: bench.trainIds[place] ?? "",
    stageMicrometerId: bench.micrometerId,
    certificateId: bench.certificateId,
  });
  const span = (right: string, lineRight: string) => [
    { reticleLeft: "0", reticleRight: right, lineLeft: "0", lineRight },
  ];
  await calibrate(page, at(1), span("99.5", "25"), "first calibration");
  await calibrate(page, at(2), span("99.2", "10"), "first calibration");
  await page.reload();

  await person.go("calibrate");
  const heading = page.getByRole("heading", { name: "Quick check", exact: true });
  await page.getByRole("heading", { level: 2 }).first().waitFor();
  await person.press("Alt+PageDown");
  await expect(heading).toBeVisible();
  await person.tabTo(page.getByRole("combobox", { name: "Optical train" }));
  await person.press("ArrowDown", "ArrowDown");
  await expect(page.getByText(/Against the factor in force, 1\.008/)).toBeVisible();
  await person.fill("Setting 1, reticle left", "0");
  await person.press("Enter");
  await person.take("99.4", "0");
  await page.keyboard.type("25");
  await person.press("Control+Enter");
  const outcome = page.getByText("Not passed, and the reading itself is suspected.");
  await expect(outcome).toBeVisible();
  await expect(page.getByText(/The ratio is that of objective 40× at position 2/).first()).toBeVisible();
  await expect(page.getByText(/times the limit/)).toBeVisible();

  const card = page.getByRole("article", { name: /Position 3/ });
  await person.go("bench");
  await expect(card).toContainText("check before use");
  await person.go("calibrate");
  await page.getByRole("heading", { level: 2 }).first().waitFor();
  await person.press("Alt+PageDown");
  await person.activate(page.getByRole("button", { name: /^Withdraw the check of/ }));
  await person.fill("Reason", "the 40× was in the path");
  await person.press("Control+Enter");
  const table = page.getByRole("table", { name: "Quick checks" });
  await expect(table).toContainText(/withdrawn .*: the 40× was in the path \(it had not passed\)/);
  await person.go("bench");
  await expect(card).not.toContainText("check before use");
  const verified = await callFrom(page, "trail.verify", {});
  expect(verified.differences).toEqual([]);
  expect(faults).toEqual([]);
});
