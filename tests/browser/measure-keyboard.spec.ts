import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { expectSizes, measureScene, type Specimen, specimens, storedRows, typed } from "./measure-scene.ts";
import { endWithoutFaults, openPreparedWindow, openSheet } from "./measure-window.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let sheetId: string;

test.use({ screenshot: "only-on-failure" });
test.setTimeout(400_000);

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  const opened = await openPreparedWindow(context, program, measureScene, 60_000);
  ({ window, page, person } = opened);
  ({ sheetId } = opened.made);
});

test.afterEach(() => endWithoutFaults(window, program));

const textsOf = ({ first, second }: Specimen): readonly string[] => [...first, ...second].map(typed);

test("a full sheet by the keyboard alone, from the Bench to the closed sheet", async () => {
  const wanted = specimens(50);
  await page.getByRole("heading", { name: "Bench" }).waitFor();
  await openSheet(page, person, "S-0002");
  let objective = 0;
  for (const [at, specimen] of wanted.entries()) {
    if (specimen.objective !== objective) {
      objective = specimen.objective;
      await person.press("/", String(objective + 1));
    }
    await person.take(...textsOf(specimen));
    if (at === 3) {
      // A specimen too many: undone by four readings, redone, struck with a reason in words.
      await person.take("10", "50", "10", "50");
      await person.expectStored(5);
      await person.press("Control+z");
      await person.expectCell(5, 6, "");
      await person.press("Control+y");
      await person.expectCell(5, 6, "50");
      await person.press("ArrowUp", "Delete");
      await page.getByRole("dialog", { name: "Strike row 5?" }).waitFor();
      await page.keyboard.type("wall torn open");
      await person.press("Enter", "+");
    }
  }
  await person.expectStored(51);
  const rows = await storedRows(page, sheetId);
  expectSizes(rows, wanted);
  expect(rows[4]?.struck?.reason).toBe("wall torn open");
  await person.go("records");
  await person.activate(page.getByRole("button", { name: /S-0002/ }).first());
  await person.activate(page.getByRole("button", { name: "Close the sheet" }).first());
  await page.getByRole("form", { name: /^Close/ }).waitFor();
  await person.press("Control+Enter");
  const stateNow = async () => (await callFrom(page, "sheets.signOffs", { sheetId })).state;
  await expect.poll(stateNow).toBe("closed");
});

test("what asks and compares is seen in both themes", async () => {
  await page.getByRole("heading", { name: "Bench" }).waitFor();
  await person.go("measure");
  await person.activate(page.getByRole("button", { name: /Measure on sheet S-0002/ }));
  await page.getByRole("region", { name: "Confirm the train" }).getByRole("button").first().waitFor();
  await seenInBothThemes(page, "confirm-train");
  await page.getByRole("grid").locator("[data-active-cell]").focus();
  await person.press("Enter");
  for (const specimen of specimens(6)) await person.take(...textsOf(specimen));
  await person.expectStored(6);
  await person.press("/");
  await seenInBothThemes(page, "keypad-acts");
  await person.press("0");
  await page.getByRole("dialog", { name: "More" }).waitFor();
  await seenInBothThemes(page, "more");
  await person.press("3");
  await page.getByRole("heading", { name: /^Second readings/ }).waitFor();
  await seenInBothThemes(page, "second-readings");
  await person.press("1", "2");
  await page.getByRole("heading", { name: "Which rows?" }).waitFor();
  await person.press("1");
  await page.getByLabel("Number of rows").fill("4");
  await seenInBothThemes(page, "second-how-many");
  await person.press("Enter");
  await page.getByRole("grid").waitFor();
  await person.take("10", "50", "11", "51");
  await seenInBothThemes(page, "second-reading");
  await person.take(...[1, 2, 3].flatMap((more) => ["10", String(50 + more), "11", String(51 + more)]));
  await expect(page.getByText("Every reading is there.")).toBeVisible();
  await person.press("Enter");
  await page.getByRole("dialog").waitFor();
  await seenInBothThemes(page, "second-close");
  await person.press("1");
  await page.getByRole("heading", { name: /^Agreement/ }).waitFor();
  await seenInBothThemes(page, "agreement");
  const [reading] = await callFrom(page, "secondReadings.list", { sheetId });
  await expect(page.getByText(reading?.id ?? "no seed")).toBeVisible();
});
