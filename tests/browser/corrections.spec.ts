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

test("a slip in a serial number and in a sample is put right by keyboard; old and new stand in the trail, and verify agrees", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const button = (name: string | RegExp) => page.getByRole("button", { name });
  const [microscope] = await callFrom(page, "microscopes.list", {});
  if (!microscope) throw new Error("the demo bench has a microscope");

  await person.go("registers");
  await page.getByRole("heading", { name: microscope.name, exact: true }).waitFor();
  await person.activate(page.locator("summary", { hasText: "Correct a slip" }).first());
  const form = page.getByRole("form", { name: "Correct a microscope" });
  await form.getByLabel("What").focus();
  await person.press("End");
  await expect(form.getByText(`Now: ${microscope.serial || "empty"}`)).toBeVisible();
  await person.fill("As it should read", microscope.serial);
  await person.press("Control+Enter");
  await expect(form.getByText(/Enter a reason in words/).first()).toBeVisible();
  await person.fill("Reason", "read off the label again");
  await person.press("Control+Enter");
  await expect(form.getByText(/It reads so already/).first()).toBeVisible();
  await person.fill("As it should read", "SN 4711 (invented)");
  await person.press("Control+Enter");
  await expect(
    page.getByText(`Serial number: ${microscope.serial || "empty"} → SN 4711 (invented).`),
  ).toBeVisible();
  await seenInBothThemes(page, "corrected");
  expect((await callFrom(page, "microscopes.list", {}))[0]?.serial).toBe("SN 4711 (invented)");

  const sheets = await callFrom(page, "sheets.list", {});
  const states = await callFrom(page, "sheets.states", {});
  const closed = new Set(states.filter(({ state }) => state !== "open").map(({ sheetId }) => sheetId));
  const sheet = sheets.find(({ id }) => !closed.has(id));
  await person.go("records");
  await person.activate(button(`Details of ${sheet?.number}`));
  await page.getByRole("heading", { name: `Sheet ${sheet?.number}` }).waitFor();
  await person.activate(page.locator("summary", { hasText: "Correct a slip" }));
  await person.fill("As it should read", "Lime honey, put right (invented)");
  await person.fill("Reason", "misspelt on the first day");
  await person.press("Control+Enter");
  await expect(page.getByText(/^Sample: .* → Lime honey, put right \(invented\)\.$/)).toBeVisible();
  await expect(page.getByText("Lime honey, put right (invented)").first()).toBeVisible();

  const lines = await callFrom(page, "trail.page", { before: null, count: 5 });
  expect(lines.filter(({ act }) => act === "records.correct")).toHaveLength(2);
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
  expect(faults).toEqual([]);
});
