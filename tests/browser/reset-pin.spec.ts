import { readFileSync } from "node:fs";
import { expect, type Page, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { savedCopy } from "./saved-copy.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: LoopbackProgram;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

const FIRST_PIN = "first 1111";

/** A closed sheet that may be signed without a review; Ada has the first PIN of the bench, Bo another. Invented. */
async function closedSheet(at: Page): Promise<void> {
  const { sheetId } = await readyBench(at);
  const cell = { dimension: "length", edge: "left" as const };
  await callFrom(at, "rows.enter", {
    requestId: newRequest(),
    sheetId,
    rowId: "row-1",
    cell,
    typed: "10",
    label: "Tilia",
  });
  await callFrom(at, "sheets.close", { requestId: newRequest(), sheetId, words: "" });
  const settings = await callFrom(at, "laboratory.settings", {});
  await callFrom(at, "laboratory.change", {
    requestId: newRequest(),
    settings: { ...settings, reviewBeforeSigning: false },
    reason: "a small laboratory",
  });
  const setPin = (personId: string, pin: string) =>
    callFrom(at, "people.setPin", { requestId: newRequest(), personId, pin, presentPin: null });
  const ada = (await callFrom(at, "bench.status", {})).personInUse?.id ?? "";
  await setPin(ada, FIRST_PIN);
  const bo = await callFrom(at, "people.register", {
    requestId: newRequest(),
    person: { name: "Bo Example", initials: "BE", interpupillaryMm: "" },
  });
  await callFrom(at, "people.choose", { personId: bo.id });
  await setPin(bo.id, "bo before");
}

const button = (name: string | RegExp) => page.getByRole("button", { name });

test.beforeEach(async ({ context }) => {
  program = await startLoopbackProgram();
  ({ window, page, person } = await openPreparedWindow(context, program, closedSheet, 60_000));
});
test.afterEach(() => endWithoutFaults(window, program));

async function choose(label: string, words: string): Promise<void> {
  await person.tabTo(person.field(label));
  await person.field(label).selectOption({ label: words });
}

async function showBo(): Promise<void> {
  await person.go("registers");
  await person.activate(button(/^People/));
  await person.activate(button(/^Bo Example/));
}

test("a forgotten PIN is vouched away, and every signature says so until its owner has confirmed it", async () => {
  test.setTimeout(240_000);
  await showBo();
  await expect(page.getByText("Nobody has confirmed yet that it is Bo Example who has it")).toBeVisible();
  await person.activate(button("Confirm whose it is"));
  await choose("Confirmed by", "Ada Example");
  await person.fill("Their PIN", FIRST_PIN);
  await person.press("Control+Enter");
  await expect(page.getByText("It is confirmed that the PIN is with Bo Example.")).toBeVisible();
  await person.activate(button("It was forgotten"));
  await choose("Vouched for by", "Ada Example");
  await person.fill("Their PIN", FIRST_PIN);
  await person.fill("Reason", "after the holidays");
  await person.press("Control+Enter");
  await expect(page.getByText("The PIN is cleared; a new one can be set.")).toBeVisible();
  await person.activate(button("Set a PIN"));
  await person.fill("New PIN", "bo anew");
  await person.fill("New PIN again", "bo anew");
  await person.press("Control+Enter");
  await expect(
    page.getByText(/^The PIN was reset .*; Ada Example vouched: after the holidays/),
  ).toBeVisible();
  await seenInBothThemes(page, "reset-pin");

  await person.go("records");
  await person.activate(button("Details of S-0001"));
  await person.activate(button("Sign with PIN"));
  await choose("Signed by", "Bo Example");
  await person.fill("PIN", "bo anew");
  await person.press("Control+Enter");
  const mark = /with a PIN that was reset .*, Ada Example vouching, and that its owner had not confirmed/i;
  await expect(page.getByText(mark)).toBeVisible();
  await expect(page.getByRole("rowheader", { name: "signed, PIN reset" })).toBeVisible();
  await seenInBothThemes(page, "marked-signature");
  await person.go("records");
  await person.activate(button("Report of S-0001"));
  await expect(page.getByRole("article").getByText(mark)).toBeVisible();
  await expect(page.getByRole("article").getByText(/^\d+:[0-9a-f]{64}$/)).toBeVisible();

  await showBo();
  await person.activate(button("Confirm the reset"));
  await seenInBothThemes(page, "confirm-reset");
  await person.fill("Present PIN of Bo Example", "bo anew");
  await person.fill("PIN from before", "bo before");
  await person.press("Control+Enter");
  await expect(page.getByText("The reset is confirmed; signatures bear no mark from now on.")).toBeVisible();
});

test("the trail says what it proves, and its heads are saved to be kept elsewhere", async () => {
  await person.go("records");
  await person.activate(
    button("Audit trail").or(page.getByRole("tab", { name: "Audit trail", exact: true })),
  );
  await expect(page.getByText("What was entered since is not proven.")).toBeVisible();
  const head = await callFrom(page, "trail.head", {});
  await expect(page.getByText(`Audit trail up to ${head}`)).toBeVisible();
  // Neither the browser window nor a desktop without a password store has a keychain to sign with.
  await expect(page.getByText(/heads are not signed/)).toBeVisible();
  await seenInBothThemes(page, "trail-head");
  await person.activate(button("Save the heads to keep elsewhere"));
  await expect(page.getByText(/^Written: trail-heads\.txt/)).toBeVisible();
  const { path, name } = await savedCopy(page);
  expect(name).toBe("trail-heads.txt");
  expect(readFileSync(path, "utf8")).toContain(String(head));
});
