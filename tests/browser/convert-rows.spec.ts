import { expect, type Page, test } from "@playwright/test";
import { keysOf } from "#renderer/window/keymap.ts";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { calibrate } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, type MeasureWindow, openMeasureWindow } from "./measure-window.ts";

const SIZE = 6;

let program: LoopbackProgram;
let measure: MeasureWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure" });

/** 96.4 divisions on 1 mm. Invented inputs. */
const SETTING = { reticleLeft: "0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" };

test.beforeEach(async ({ context }) => {
  program = await startLoopbackProgram();
  measure = await openMeasureWindow(context, program, { calibrated: false, rows: "a\t10\t45\nb\t10\t50" });
  ({ page, person } = measure);
});

test.afterEach(() => endWithoutFaults(measure.window, program));

const sizes = async () =>
  (await callFrom(page, "rows.page", { sheetId: measure.bench.sheetId, from: 1, count: 10 })).rows.map(
    ({ measurements }) => measurements[0]?.size?.shownValue ?? null,
  );

async function calibrateNow(): Promise<void> {
  const { trainIds, micrometerId, certificateId } = measure.bench;
  const at = { trainId: trainIds[0] ?? "", stageMicrometerId: micrometerId, certificateId };
  await calibrate(page, at, [SETTING, SETTING, SETTING], "calibrated after the readings");
}

test("rows read without a factor get their sizes from the grid, by keys alone, and one undo takes them back", async () => {
  await person.press("/", "0", "4");
  await page.keyboard.type("no factor yet");
  await person.press("Control+Enter");
  await expect(page.getByRole("dialog")).toContainText("waits for a factor that is in force now");
  await person.press("Escape");
  await calibrateNow();
  await person.press("/", "0", "4");
  await page.getByRole("dialog").waitFor();
  await page.keyboard.press("Control+a");
  await page.keyboard.type("calibrated on the day after");
  await person.press("Control+Enter");
  await page.getByRole("dialog").waitFor({ state: "detached" });
  await expect(page.getByRole("status").filter({ hasText: "2 rows have their sizes now" })).toBeVisible();
  // By hand, invented readings: 35 and 40 divisions at 1000/96.4 µm/div are 363.07 and 414.94 µm.
  await person.expectCell(1, SIZE, /^363\.1 ± /);
  await person.expectCell(2, SIZE, /^414\.9 ± /);
  await person.press("Control+z");
  await expect.poll(sizes).toEqual([null, null]);
});

test("a row read without a factor gets its size from Trace", async () => {
  await calibrateNow();
  await person.press("Control+Home", ...keysOf("measure.trace").slice(0, 1));
  await page.getByRole("heading", { name: "Traceability of this result" }).waitFor();
  await person.activate(page.getByRole("button", { name: /^Convert with the factor in force/ }));
  await page.keyboard.type("calibrated on the day after");
  await person.press("Control+Enter");
  await page.getByRole("dialog").waitFor({ state: "detached" });
  await expect.poll(sizes).toEqual([expect.stringMatching(/^363\.1/), null]);
  await expect(page.getByRole("button", { name: /^Convert with the factor/ })).toHaveCount(0);
});
