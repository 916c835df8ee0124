import { expect, type Page, test } from "@playwright/test";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom } from "./bench-window.ts";
import { copyPicture } from "./copied-picture.ts";
import { expectFigure, seededCount } from "./count-keys.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

/* Objects, pictures and positions are invented. */

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let countId: string;

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });
test.beforeEach(async ({ context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  program = await startProgram();
  const opened = await openPreparedWindow(context, program, async (prepared) => {
    await readyBench(prepared);
    return seededCount(prepared, POLLEN_MARKER);
  });
  ({ window, page, person } = opened);
  countId = opened.made;
});
test.afterEach(() => endWithoutFaults(window, program));

const pictures = () => callFrom(page, "attachments.ofCount", { countId });
const aside = () => page.getByRole("complementary", { name: "Picture of the field" });

test("a picture is pasted to the field in hand, its place named, both stand in closed count, map and paper, by keyboard", async () => {
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /^Continue count/ }));
  await page.getByText(/F7 resumes at field/).waitFor();
  await person.press("F7");
  await page.getByText("Counting.", { exact: true }).waitFor();
  const pad = await Keypad.of(page);
  await pad.type("11⏎2");
  await expectFigure(page, "stored", 4);
  await copyPicture(page);
  await person.press("Control+v");
  const dialog = page.getByRole("dialog", { name: "Pictures of field 2" });
  await expect(dialog.getByRole("img", { name: "The picture to be attached" })).toBeVisible();
  await expect(dialog.getByLabel("What it shows")).toBeFocused();
  await page.keyboard.type("a cluster");
  await person.press("Enter");
  await expect(dialog).toBeHidden();
  await expect(aside().getByRole("img", { name: "a cluster" })).toHaveAttribute("data-drawn", "true");
  await expect.poll(async () => (await pictures()).length).toBe(1);
  const [kept] = await pictures();
  expect(kept).toMatchObject({
    subject: { kind: "count field", id: countId, field: 2 },
    caption: "a cluster",
    fileName: "pasted, field 2.png",
  });
  await seenInBothThemes(page, "field-picture-beside");

  await person.activate(page.getByRole("button", { name: "Position …" }));
  const square = page.getByLabel("Square of a finder slide");
  await person.tabTo(square);
  await page.keyboard.type("23M");
  await person.press("Control+Enter");
  await expect(page.getByText(/is no square of a finder slide/).first()).toBeVisible();
  await person.tabTo(square);
  await person.press("Control+a");
  await page.keyboard.type("M23");
  await person.press("Control+Enter");
  await page.getByRole("dialog").waitFor({ state: "detached" });
  await page.getByText("Counting.", { exact: true }).waitFor();
  // The next field has no picture, and its keys are taken.
  await pad.type("⏎1");
  await expect(aside()).toContainText("Field 3");
  await expect(aside()).toContainText("No picture.");
  await expectFigure(page, "stored", 6);

  await person.press("F7");
  await page.getByText("Paused: keys are not taken.").waitFor();
  await person.activate(page.getByRole("button", { name: "Close the count …" }));
  await page.getByRole("dialog").waitFor();
  await person.press("Enter");
  await page.getByRole("heading", { name: "Results" }).waitFor();
  await expect(page.getByRole("img", { name: /Map of counted fields.*2: square M23/ })).toBeVisible();
  const fields = page.getByRole("table", { name: "Fields by categories" });
  await expect(fields.getByRole("row").nth(2)).toContainText("square M23");
  await expect(fields.getByRole("row").nth(2)).toContainText("a cluster");
  const choice = page.getByRole("checkbox", { name: "with the 1 picture of fields" });
  await person.tabTo(choice);
  await person.press("Space");
  const onPaper = page.getByRole("region", { name: "Pictures of fields" }).last();
  await expect(onPaper.getByRole("img", { name: "Field 2, square M23: a cluster" })).toBeVisible();
  await expect(onPaper).toContainText(kept?.sha256 ?? "none");
  await expect(page.getByRole("button", { name: "Print or save as PDF" })).toBeEnabled();
  await seenInBothThemes(page, "field-picture-closed");
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
});

test("a picture of a field is opened by key, withdrawn with a reason, and what is no picture is refused at its field", async () => {
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /^Continue count/ }));
  await page.getByText(/F7 resumes at field/).waitFor();
  await person.press("Alt+i");
  const dialog = page.getByRole("dialog", { name: "Pictures of field 1" });
  const file = dialog.getByLabel(/^Picture: paste it/);
  await file.setInputFiles({ name: "sketch.png", mimeType: "image/png", buffer: Buffer.from("<svg/>") });
  await person.tabTo(dialog.getByLabel("What it shows"));
  await person.press("Enter");
  await expect(dialog.getByText(/sketch\.png is not a PNG, JPEG or PDF file/).first()).toBeVisible();
  expect(await pictures()).toEqual([]);
  await person.press("Escape");
  await expect(dialog).toBeHidden();
  await copyPicture(page);
  await person.press("Control+v");
  await expect(dialog.getByRole("img", { name: "The picture to be attached" })).toBeVisible();
  await person.press("Control+Enter");
  await expect(dialog).toBeHidden();
  await expect.poll(async () => (await pictures()).length).toBe(1);
  await person.press("Alt+i");
  await person.activate(dialog.getByRole("button", { name: /^Withdraw pasted, field 1/ }));
  await expect(dialog.getByLabel("Reason")).toBeFocused();
  await page.keyboard.type("of another slide");
  await person.press("Control+Enter");
  await expect(dialog.getByRole("table")).toContainText("of another slide");
  await person.press("Escape");
  await expect(aside()).toHaveCount(0);
  expect(await pictures()).toMatchObject([{ withdrawn: { reason: "of another slide" } }]);
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
});
