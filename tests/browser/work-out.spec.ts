import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

test("grain size, thickness and a counting circle are worked out at the bench, by keyboard alone", async ({
  context,
}) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const outcome = page.getByRole("status", { name: "Outcome" });
  const choose = async (words: string): Promise<void> => {
    await person.tabTo(person.field("What to work out"));
    await page.keyboard.type(words);
  };
  await person.go("bench");

  // ASTM E112, from memory: 3.2 mm of lines and 100 intercepts are G 6.64.
  await choose("Grain size number from counted");
  await person.fill("Length of the test lines at the specimen", "3.2");
  await expect(outcome).toBeEmpty();
  await person.fill("Intercepts counted", "100");
  await expect(outcome).toContainText("6.64");
  await person.fill("Intercepts counted", "0");
  await expect(page.getByText("must be greater than zero").first()).toBeVisible();
  await expect(outcome).toBeEmpty();

  // From memory, textbooks: 4 µm of drum, a mount of 1.515, dry.
  await page.reload();
  await choose("Thickness by focusing");
  await person.fillAll({
    "Drum at the upper surface": "10",
    "Drum at the lower surface": "14",
    "Standard deviation of finding one surface": "0.2",
  });
  await expect(outcome).toContainText("6.1 ± 1.1 µm");
  await expect(page.getByText(/With high apertures it is an approximation/)).toBeVisible();
  await seenInBothThemes(page, "work-out-depth");

  // The train fills in what is known of it.
  await page.reload();
  const { microscopes } = await callFrom(page, "bench.overview", {});
  const [calibrated] = microscopes.flatMap(({ trains }) => trains.filter(({ inForce }) => inForce?.result));
  expect(calibrated).toBeDefined();
  await choose("Counting circle to order");
  await expect(outcome).toBeEmpty();
  await person.tabTo(person.field("Objective"));
  await person.press("ArrowDown");
  await expect(outcome).toContainText(/Circle to order\s*\d/);
  await seenInBothThemes(page, "work-out-circle");
  expect(faults).toEqual([]);
});
