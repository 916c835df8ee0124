import { expect, test } from "@playwright/test";
import { keysOf } from "#renderer/window/keymap.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });
test.beforeEach(async () => {
  program = await startProgram();
});

test("a curved object is read in parts, whose sum is its size, by keyboard", async ({ context }) => {
  test.slow();
  const { window, page, person } = await openPreparedWindow(context, program, readyBench);
  await person.go("registers");
  await person.activate(
    page.getByRole("button", { name: "Methods" }).or(page.getByRole("tab", { name: "Methods" })),
  );
  await person.activate(page.getByRole("button", { name: "Define a method" }));
  await person.fill("Name", "Worms");
  await person.tabTo(page.getByLabel("Dimension 1, dimension"));
  await page.keyboard.type("Length");
  await person.tabTo(page.getByLabel("Dimension 1, read in up to … parts"));
  await page.keyboard.type("1");
  await person.press("Control+Enter");
  await expect(page.getByText(/must be at least 2, or empty/).first()).toBeVisible();
  await person.tabTo(page.getByLabel("Dimension 1, read in up to … parts"));
  await person.press("Control+a");
  await page.keyboard.type("3");
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: "Worms" }).waitFor();
  await expect(page.getByText("Length (column length), read in up to 3 parts")).toBeVisible();

  await person.go("measure");
  await person.fill("Sample", "Soil 3");
  await person.tabTo(person.field("Method"));
  await page.keyboard.type("Worms");
  await person.activate(page.getByRole("button", { name: "Open the sheet" }));
  await page.getByRole("region", { name: "Confirm the train" }).waitFor();
  await person.press("Enter");
  await expect(
    page.getByRole("columnheader", { name: "Length, part 2, left edge, divisions" }),
  ).toBeVisible();
  // 80 + 5 divisions; the third part is not needed.
  await person.take("10", "90", "12");
  await expect(page.getByRole("grid")).toContainText("part unfinished");
  await person.take("17");
  await person.press("+");
  await person.take("20", "50");
  await person.press("+");
  await expect(page.getByRole("grid")).not.toContainText("part unfinished");
  await person.expectStored(2);
  const divisions = 9;
  await person.expectCell(1, divisions, "85");
  await person.expectCell(2, divisions, "30");
  // 1000 µm on 96.4 divisions.
  await person.expectCell(1, divisions + 1, /^881\.\d* ± \d/);
  // U of the mean is on the screen what it is in the report.
  await person.press((keysOf("measure.panel")[0] ?? "").replace("Ctrl", "Control"));
  const statistics = page.getByRole("complementary", { name: "Statistics so far" });
  const withU = statistics
    .getByRole("row", { name: /^mean ± U/ })
    .locator("td")
    .first();
  await expect(withU).toHaveText(/^\d+ ± \d+$/);
  const mean = (await withU.textContent()) ?? "";
  await seenInBothThemes(page, "read-in-parts");
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0002" }));
  await expect(page.getByRole("article")).toContainText(mean);
  await endWithoutFaults(window, program);
});
