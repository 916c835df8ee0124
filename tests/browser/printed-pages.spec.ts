import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

/** The text of each page that a printer would get. */
async function printedPages(page: Page, name: string): Promise<readonly string[]> {
  const path = join(program.folder, `${name}.pdf`);
  writeFileSync(path, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
  const text = execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" });
  return text.split("\f").slice(0, -1);
}

test("every printed page bears its number, and where it shows records how far the trail went", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const expectNumbered = (pages: readonly string[], foot: RegExp | null): void => {
    expect(pages.length).toBeGreaterThan(0);
    for (const [at, text] of pages.entries()) {
      expect(text).toContain(`page ${at + 1} of ${pages.length}`);
      if (foot) expect(text.split("\n").slice(-4).join("\n")).toMatch(foot);
    }
  };
  const head = /Audit trail up to \d+:[0-9a-f]{64}/;

  await person.go("trends");
  await page.getByRole("button", { name: "Workbook" }).waitFor();
  expectNumbered(await printedPages(page, "trends"), head);

  await person.go("practice");
  await person.activate(page.getByRole("button", { name: "Proven", exact: true }));
  await page.getByText("Practice: who has shown what").waitFor();
  expectNumbered(await printedPages(page, "practice"), head);

  await person.go("about");
  await person.press("F1");
  await page.getByRole("heading").first().waitFor();
  expectNumbered(await printedPages(page, "about"), null);
  expect(faults).toEqual([]);
});
