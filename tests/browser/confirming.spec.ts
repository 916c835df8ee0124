import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
test.beforeEach(async () => {
  program = await startProgram();
});
test.afterEach(() => program.stop());

const button = (person: KeyboardPerson, name: string | RegExp) => person.page.getByRole("button", { name });
const heading = (person: KeyboardPerson, name: string | RegExp) =>
  person.page.getByRole("heading", { name }).first();

async function sit(person: KeyboardPerson, personId: string): Promise<void> {
  await callFrom(person.page, "people.choose", { personId });
  await person.page.reload();
  await person.page.locator("main").waitFor();
}

async function registerSecond(page: Page): Promise<string> {
  const { id } = await callFrom(page, "people.register", {
    requestId: crypto.randomUUID(),
    person: { name: "Bo Example", initials: "BE", interpupillaryMm: "" },
  });
  return id;
}

/** Types over the right edge of the first row. */
async function amendRight(person: KeyboardPerson, typed: string): Promise<void> {
  await person.press("Control+Home");
  const rightEdge = person.page.locator('[aria-rowindex="3"] [aria-colindex="4"]');
  for (let step = 0; step < 6; step += 1) {
    if (await rightEdge.evaluate((cell) => cell === document.activeElement)) break;
    await person.press("ArrowRight");
  }
  await person.take(typed);
}

test("a laboratory that asks for it has its calibrations confirmed by a second person", async ({
  context,
}) => {
  test.setTimeout(600_000);
  const opened = await openPreparedWindow(context, program, async (page) => {
    await readyBench(page);
    return registerSecond(page);
  });
  const { window, person, made: second } = opened;

  await person.go("registers");
  await person.activate(button(person, "Laboratory"));
  await person.choose("Calibrations", /marked until a second person/);
  await person.fill("Reason for the change", "procedure 12: two pairs of eyes");
  await person.press("Control+Enter");
  await expect(person.page.getByText("The settings are kept.")).toBeVisible();

  await person.go("bench");
  await expect(person.page.getByRole("article", { name: /Position 1/ })).toContainText("not confirmed");
  await person.activate(button(person, /Confirm the calibration of 10×\/0\.25 on Stand A/));
  await heading(person, "Confirmation by a second person").waitFor();
  await expect(
    person.page.getByText(
      "Not confirmed yet; this laboratory asks for it, and the train is marked until then.",
    ),
  ).toBeVisible();
  // Whoever calibrated is refused, with what to do, and what was typed stays.
  await person.fill("What was looked at", "settings and budget");
  await person.press("Control+Enter");
  await expect(person.page.getByRole("alert")).toContainText(
    "Ada Example calibrated this train or put the factor in force.",
  );
  await expect(person.page.getByText(/Another person confirms it/)).toBeVisible();
  await expect(person.field("What was looked at")).toHaveValue("settings and budget");

  // The second person finds what was typed, as kept.
  await sit(person, second);
  await heading(person, "Confirmation by a second person").waitFor();
  await person.fill("What was looked at", "settings and budget read through");
  await person.press("Control+Enter");
  await expect(person.page.getByText(/^Confirmed by Bo Example, /)).toBeVisible();
  await expect(person.page.getByText("settings and budget read through")).toBeVisible();
  await person.go("bench");
  await expect(person.page.getByRole("article", { name: /Position 1/ })).not.toContainText("not confirmed");
  await person.go("records");
  await person.activate(button(person, "Audit trail"));
  await expect(person.page.getByRole("table").locator("tbody tr").first()).toContainText(
    "confirmed a calibration",
  );
  expect(window.faults).toEqual([]);
});

test("a change of a closed sheet asks for its reason and is kept as an amendment with it", async ({
  context,
}) => {
  test.setTimeout(600_000);
  const { window, person, made } = await openPreparedWindow(context, program, readyBench);
  const { sheetId } = made;
  const enter = (edge: "left" | "right", typed: string) =>
    callFrom(window.page, "rows.enter", {
      requestId: crypto.randomUUID(),
      sheetId,
      rowId: "row-1",
      cell: { dimension: "length", edge },
      typed,
      label: "grain",
    });
  await enter("left", "23.0");
  await enter("right", "51.5");
  await window.page.reload();
  await window.page.locator("main").waitFor();

  await person.go("records");
  await person.activate(button(person, "Details of S-0001"));
  await heading(person, "Sheet S-0001").waitFor();
  await person.activate(button(person, "Close the sheet"));
  await person.press("Control+Enter");
  await expect(person.page.getByText("Closed: every change asks for its reason.")).toBeVisible();

  await person.go("measure");
  await person.activate(button(person, /^Measure on sheet S-0001/));
  await person.page.getByRole("grid").waitFor();
  await person.expectStored(1);
  await expect(person.page.getByText(/^This sheet is closed \(closed .* by Ada Example\)\./)).toBeVisible();
  const active = person.page.getByRole("grid").locator('[role="gridcell"][tabindex="0"]');
  await person.tabTo(active);
  // The right edge of row 1: corrected without a reason, it is refused.
  await amendRight(person, "53.5");
  await expect(person.page.getByText(/a change asks for its reason/).first()).toBeVisible();
  const stored = async () =>
    (await callFrom(window.page, "rows.page", { sheetId, from: 1, count: 1 })).rows[0]?.measurements[0];
  expect((await stored())?.right).toBe("51.5");

  await person.fill("Reason for changes", "the right edge was read at the shadow");
  await person.tabTo(active);
  await amendRight(person, "53.5");
  await expect.poll(async () => (await stored())?.right).toBe("53.5");
  await person.go("records");
  await person.activate(button(person, "Audit trail"));
  const amended = person.page.getByRole("row", { name: /corrected a reading/ }).first();
  await expect(amended).toContainText("the right edge was read at the shadow");
  expect(window.faults).toEqual([]);
});
