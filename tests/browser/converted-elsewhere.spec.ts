import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom } from "./bench-window.ts";
import { endWithoutFaults, openMeasureWindow } from "./measure-window.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

/* The notebook and its sizes are invented. */

let program: ProgramUnderTest;
test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });
test.beforeEach(async () => {
  program = await startProgram();
});

const ORIGIN = "2.50 µm per division, by the notebook of 1998";

test("sizes that come in µm are named by who converted them, stand apart in grid, report and trace, by keyboard", async ({
  context,
}) => {
  const { window, page, person } = await openMeasureWindow(context, program);
  await person.go("records");
  await person.activate(
    page
      .getByRole("tab", { name: "Import", exact: true })
      .or(page.getByRole("button", { name: "Import", exact: true })),
  );
  const text = "Label;Length µm\nTilia 1;25,3\nTilia 2;26.1\n";
  await page
    .getByLabel("Choose a CSV, TSV or xlsx file, or drop it here")
    .setInputFiles({ name: "old.csv", mimeType: "text/csv", buffer: Buffer.from(text) });
  await expect(page.getByText("What the columns of old.csv hold")).toBeVisible();
  const origin = page.getByLabel("Sizes in µm were converted by");
  // Not named: the field says so and has the focus.
  await person.activate(page.getByRole("button", { name: "Preview" }));
  await expect(page.getByText(/Name the factor or the program that made the sizes/)).toBeVisible();
  await expect(origin).toBeFocused();
  await page.keyboard.type(ORIGIN);
  await seenInBothThemes(page, "import-converted-elsewhere");
  await person.activate(page.getByRole("button", { name: "Preview" }));
  await expect(page.getByText("2 sizes converted elsewhere")).toBeVisible();
  await expect(page.getByText(`Length: 25,3 µm, converted elsewhere by ${ORIGIN}`)).toBeVisible();
  await person.fill("Sample", "Old notebook");
  await person.activate(page.getByRole("button", { name: /^Accept 2 rows/ }));
  await person.activate(page.getByRole("button", { name: "Open S-0002" }));

  const grid = page.getByRole("grid");
  await expect(grid).toContainText("25,3 µm");
  await expect(grid).toContainText("converted elsewhere");
  const question = page.getByRole("region", { name: "Confirm the train" });
  await expect(question).not.toBeEmpty();
  await person.press("Enter");
  await expect(question).toBeEmpty();
  await person.press("Control+Home", "ArrowRight", "ArrowRight");
  const explained = page.getByRole("region", { name: "Flags and history of this row" });
  await expect(explained).toContainText(`25,3 µm, converted elsewhere by ${ORIGIN}`);
  await expect(explained).toContainText("no chain leads from it to the SI");
  await seenInBothThemes(page, "measure-converted-elsewhere");

  await person.press("F9");
  await expect(page.getByRole("heading", { name: "No traceability of this size" })).toBeVisible();
  await expect(page.getByText(ORIGIN)).toBeVisible();
  await expect(page.getByText("Converted elsewhere: not traceable")).toBeVisible();
  await expect(page.getByRole("table", { name: "Audit trail of this row" })).toContainText("1");
  await seenInBothThemes(page, "trace-converted-elsewhere");

  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0002" }));
  const table = page.getByRole("region", { name: "Converted elsewhere" });
  await expect(table).toContainText(ORIGIN);
  // By hand: (25.3 + 26.1)/2 = 25.70, s = 0.8/√2 = 0.57.
  await expect(table.getByRole("row").nth(1)).toContainText("25.70");
  await expect(table.getByRole("row").nth(1)).toContainText("0.57");
  await seenInBothThemes(page, "report-converted-elsewhere");
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
  await endWithoutFaults(window, program);
});
