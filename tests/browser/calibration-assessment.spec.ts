import { expect, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

let program: LoopbackProgram;
test.beforeAll(async () => {
  program = await startLoopbackProgram({ demo: true });
});
test.afterAll(() => program.stop());

test("the verdict kept with a calibration is read in its record and made anew with a reason, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const [newest] = await callFrom(page, "calibrations.list", { trainId: null });
  const approvals = await callFrom(page, "calibrations.approvals", { trainId: newest?.trainId ?? null });
  const kept = approvals.find((one) => one.calibrationId === newest?.id)?.assessments[0];
  await person.go("records");
  const table = page.getByRole("table", { name: "Calibrations, newest first" });
  for (let tabs = 0; tabs < 10 && !(await table.isVisible()); tabs += 1) {
    await person.press("Alt+PageDown");
    await page.getByRole("heading", { level: 2 }).first().waitFor();
  }
  await person.activate(table.locator("tbody tr").first().getByRole("button"));
  const findings = page.getByRole("table", { name: "Findings" });
  await expect(findings.locator("tbody tr")).toHaveCount(kept?.findings.length ?? 0);
  await expect(findings).toContainText(kept?.findings.find(({ key }) => key === "halves")?.words ?? "?");
  await person.activate(page.getByText("Assess it anew"));
  await person.fill("Reason", "before the yearly review");
  await person.press("Control+Enter");
  await expect(page.getByText(/^Assessed .*: before the yearly review$/)).toBeVisible();
  await person.activate(page.getByText("Earlier assessments"));
  await expect(page.getByText(kept?.reason ?? "?").first()).toBeVisible();
  expect(faults).toEqual([]);
});
