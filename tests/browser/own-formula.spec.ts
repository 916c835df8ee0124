import { expect, test } from "@playwright/test";
import { startProgram } from "../support/program-under-test.ts";
import { callFrom } from "./bench-window.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

test("a formula of the laboratory's own is typed, refused where it makes no sense, and computed with U, by keyboard", async ({
  context,
}) => {
  test.slow();
  const program = await startProgram();
  const { window, page, person } = await openPreparedWindow(context, program, (at) => readyBench(at));
  await person.go("registers");
  await person.activate(
    page.getByRole("button", { name: "Methods" }).or(page.getByRole("tab", { name: "Methods" })),
  );
  await person.activate(page.getByRole("button", { name: "Define a method" }));
  await person.fill("Name", "Ellipses");
  await person.tabTo(page.getByLabel("Dimension 1, dimension"));
  await page.keyboard.type("Length");
  await person.activate(page.getByRole("button", { name: "Add dimension" }));
  await expect(page.getByLabel("Dimension 2, dimension")).toBeFocused();
  await page.keyboard.type("Width");
  await person.activate(page.getByRole("button", { name: "Add quantity" }));
  await expect(page.getByLabel("Quantity 1, quantity", { exact: true })).toBeFocused();
  await page.keyboard.type("Area");
  await person.tabTo(page.getByLabel("Quantity 1, what it is"));
  await page.keyboard.type("a formula of its own");
  const formula = page.getByLabel("Quantity 1, columns or formula");
  await expect(page.getByText(/^A formula is written with column names/)).toBeVisible();
  for (const [typed, problem] of [
    ["pi/4*lenght*width", /names “lenght”, which is no column of this method: it has length, width/],
    ["pi/4*length*width + 2", /adds µm² and a pure number, whose units do not fit/],
    ["length/(width - width)", /gives no finite number/],
    ["pi/4*(length*width", /cannot be read/],
  ] as const) {
    await person.tabTo(formula);
    await person.press("Control+a");
    await page.keyboard.type(typed);
    await person.press("Control+Enter");
    await expect(page.getByText(problem).first()).toBeVisible();
    await expect(formula).toHaveAttribute("aria-invalid", "true");
    await expect(formula).toHaveValue(typed);
  }
  await seenInBothThemes(page, "formula-refused");
  await person.tabTo(formula);
  await person.press("Control+a");
  await page.keyboard.type("pi/4*length*width");
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: "Ellipses", exact: true }).waitFor();
  await expect(page.getByText("pi/4*length*width (column area, µm²)")).toBeVisible();

  await person.go("measure");
  await person.fill("Sample", "Invented ellipses");
  await person.tabTo(person.field("Method"));
  await page.keyboard.type("Ellipses");
  await person.activate(page.getByRole("button", { name: "Open the sheet" }));
  await page.getByRole("region", { name: "Confirm the train" }).waitFor();
  await person.press("Enter");
  await person.take("10", "40", "10", "30");
  await person.take("10", "50", "10", "40");
  await person.expectStored(2);
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0002" }));
  const report = page.getByRole("article");
  // π/4 · 30 · 20 and π/4 · 40 · 30 div², by 10.373 µm/div: 50 700 and 101 400 µm².
  const table = report.getByRole("table", { name: "Area (µm²)" });
  await expect(table.getByRole("row", { name: /^All counted rows/ })).toContainText(/76\D?0\d\d/);
  await expect(report).toContainText("Area = pi/4*length*width, in µm²: a formula of this laboratory.");
  await seenInBothThemes(page, "report-with-formula");
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
  await endWithoutFaults(window, program);
});
