import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

test("divisions on one objective are those on another, and the plan says which one to use, by keyboard alone", async ({
  context,
}) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const { microscopes } = await callFrom(page, "bench.overview", {});
  const calibrated = microscopes.flatMap(({ trains }) => trains.filter(({ inForce }) => inForce?.result));
  const factors = calibrated.map(({ inForce }) => Number(inForce?.result?.factor));
  expect(factors.length).toBeGreaterThan(1);

  await person.go("bench");
  await person.fill("Size of the object", "12");
  const rows = page
    .getByRole("region", { name: /^The object on each calibrated objective/ })
    .locator("tbody tr");
  await expect(rows).toHaveCount(factors.length);

  // The second entry: divisions on the first train listed.
  await person.tabTo(person.field("Given in"));
  await person.press("ArrowDown");
  const size = 12 * (factors[0] ?? 0);
  const first = calibrated[0]?.train.objectiveId;
  const objective = microscopes
    .flatMap(({ microscope }) => microscope.objectives)
    .find(({ id }) => id === first);
  const places = Number(objective?.magnification) > 10 ? 1 : 0;
  await expect(
    page.getByText(new RegExp(`^12 divisions on .* are ${size.toFixed(places)} µm`)),
  ).toBeVisible();
  const shown = (await rows.locator("td:nth-child(2)").allTextContents()).map(Number);
  const expected = factors.map((factor) => Number((size / factor).toFixed(1)));
  expect(shown.toSorted((a, b) => a - b)).toEqual(expected.toSorted((a, b) => a - b));

  await person.fill("Wanted, ±", "0");
  await expect(page.getByText(/must be greater than zero/)).toBeVisible();
  await expect(rows).toHaveCount(0);
  await person.fill("Wanted, ±", "5");
  await expect(rows.first()).toContainText(/spans .* divisions, expected U/);
  await seenInBothThemes(page, "plan");
  expect(faults).toEqual([]);
});
