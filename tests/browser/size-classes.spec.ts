import { expect, type Page, test } from "@playwright/test";
import { keysOf } from "#renderer/window/keymap.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });
test.beforeEach(async ({ context }) => {
  program = await startProgram();
  ({ window, page, person } = await openPreparedWindow(context, program, (at) => readyBench(at)));
});
test.afterEach(() => endWithoutFaults(window, program));

async function typeOver(label: string, text: string): Promise<void> {
  await person.tabTo(page.getByLabel(label, { exact: true }));
  await person.press("Control+a");
  await page.keyboard.type(text);
}

test("particles are counted by the laboratory's own limits, per container with exact limits, and decided, by keyboard", async () => {
  test.slow();
  await person.go("registers");
  await person.activate(
    page.getByRole("button", { name: "Methods" }).or(page.getByRole("tab", { name: "Methods" })),
  );
  await person.activate(page.getByRole("button", { name: "Define a method" }));
  await person.fill("Name", "Particles by size");
  await person.tabTo(page.getByLabel("Dimension 1, dimension"));
  await page.keyboard.type("Length");
  await person.activate(page.getByRole("button", { name: "Add size limit" }));
  await expect(page.getByLabel("Size limit 1, from")).toBeFocused();
  // By the keypad: Enter goes on to the next field, from the last one to a new row.
  await person.take("100", "0.3");
  await expect(page.getByLabel("Size limit 2, from")).toBeFocused();
  await person.take("50");
  await expect(page.getByLabel("Size limit 2, at most")).toBeFocused();
  await page.keyboard.type("0.1");
  await expect(page.getByLabel("What is counted by size")).toHaveValue("length");
  await person.tabTo(page.getByLabel("Numbers are given"));
  await page.keyboard.type("per container");
  await person.fill("Where the limits come from", "Invented limits");
  await person.press("Control+Enter");
  await expect(
    page.getByText("From must be greater than the limit before it", { exact: true }),
  ).toBeVisible();
  await typeOver("Size limit 2, from", "400");
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: "Particles by size", exact: true }).waitFor();
  await expect(
    page.getByText("Length: ≥ 100 µm, at most 0.3; ≥ 400 µm, at most 0.1; numbers per container"),
  ).toBeVisible();
  await seenInBothThemes(page, "method-with-size-limits");

  await person.go("measure");
  await person.fill("Sample", "Ten ampoules (invented)");
  await person.tabTo(person.field("Method"));
  await page.keyboard.type("Particles by size, v");
  await person.fill("Volume tested, all together", "x");
  await person.activate(page.getByRole("button", { name: "Open the sheet" }));
  await expect(page.getByText(/must be a number greater than zero, or empty/).first()).toBeVisible();
  await person.fill("Volume tested, all together", "25");
  await person.activate(page.getByRole("button", { name: "Open the sheet" }));
  await page.getByRole("region", { name: "Confirm the train" }).waitFor();
  await person.press("Enter");
  // Of 10.373 µm/div by hand: 207, 301 and 52 µm; nothing of 400 µm.
  await person.take("10", "30", "10", "39", "10", "15");
  await person.expectStored(3);
  await person.press((keysOf("measure.panel")[0] ?? "").replace("Ctrl", "Control"));
  const live = page.getByRole("table", { name: "Length, by size" });
  await expect(live.getByRole("row", { name: "≥ 100 µm" })).toContainText("2");
  await expect(live.getByRole("row", { name: "≥ 400 µm" })).toContainText("0");
  await seenInBothThemes(page, "live-size-classes");

  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0002" }));
  const report = page.getByRole("article");
  await expect(report).toContainText(
    "Length ≥ 100 µm, at most 0.3 /container: undecided, the number of containers is not named.",
  );
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Details of S-0002" }));
  await page.getByRole("heading", { name: "Sheet S-0002" }).waitFor();
  await person.activate(page.locator("summary", { hasText: "Correct a slip" }));
  await person.tabTo(page.getByLabel("What", { exact: true }));
  await page.keyboard.type("Containers");
  await person.fill("As it should read", "10");
  await person.fill("Reason", "named on the label");
  await person.press("Control+Enter");
  await expect(page.getByText("Containers pooled: empty → 10.")).toBeVisible();

  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0002" }));
  const table = report.getByRole("table", { name: "Length: number by size" });
  // Garwood's limits of 2: 0.242 to 7.225; of none: 0 to 3.689, less than 2.996.
  await expect(table.getByRole("row", { name: "≥ 100 µm" })).toContainText(
    /2.*0\.2.*0\.02422 to 0\.7225.*0\.3.*conforms/,
  );
  await expect(table.getByRole("row", { name: "≥ 400 µm" })).toContainText(
    /0.*< 0\.3.*0 to 0\.3689.*0\.1.*conforms/,
  );
  await expect(report).toContainText("10 containers, 25 mL tested");
  await expect(report).toContainText(
    /Length ≥ 100 µm: 0\.2 \/container; at most 0\.3 \/container: conforms by simple acceptance \(JCGM 106:2012 8\.2\)/,
  );
  await seenInBothThemes(page, "report-with-size-classes");
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
});
