import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readTenths } from "./practice-acts.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

test.use({ viewport: { width: 1280, height: 800 } });

const PIN = "4 invented words";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  person = new KeyboardPerson(page);
  await readyBench(page);
});
test.afterEach(async () => {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

/** Somebody with a PIN, at the bench for as long as it takes to set it. */
async function examiner(name: string, initials: string): Promise<string> {
  const reader = (await callFrom(page, "bench.status", {})).personInUse?.id ?? "";
  const { id } = await callFrom(page, "people.register", {
    requestId: newRequest(),
    person: { name, initials, interpupillaryMm: "63" },
  });
  await callFrom(page, "people.choose", { personId: id });
  await callFrom(page, "people.setPin", {
    requestId: newRequest(),
    personId: id,
    pin: PIN,
    presentPin: null,
  });
  await callFrom(page, "people.choose", { personId: reader });
  return id;
}

async function anew(): Promise<void> {
  await page.reload();
  await page.getByRole("heading").first().waitFor();
}

const button = (name: string | RegExp) => page.getByRole("button", { name });

test("an examiner signs a met attempt by keyboard; it is proven on Practice and under People", async () => {
  test.slow();
  await examiner("Ben Example", "BE");
  await readTenths(page);
  await anew();
  await person.go("practice");
  await person.activate(
    page.getByRole("region", { name: "Read tenths" }).getByRole("button", { name: "Last result" }),
  );
  await person.activate(button("Sign as examiner"));
  const choice = page.getByLabel("Examiner", { exact: true });
  await person.tabTo(choice);
  await expect(choice.getByRole("option", { name: /Ada Example/ })).toHaveCount(0);
  await page.keyboard.type("Ben");
  await person.fill("PIN", "not the PIN");
  await person.press("Control+Enter");
  await expect(page.getByText(/That is not the PIN of Ben Example/).first()).toBeVisible();
  await person.fill("PIN", PIN);
  await person.fill("Words with the signature", "watched at the bench");
  await person.press("Control+Enter");
  const certificate = page.getByRole("region", { name: "Certificate of practice" });
  await expect(certificate).toContainText("Certificate of practice no. 1");
  await expect(certificate).toContainText("Ben Example");
  await expect(page.getByText("A met exercise is no licence")).toBeVisible();

  await person.activate(button("Proven"));
  const row = page.getByRole("row", { name: /Ada Example.*Read tenths/ });
  await expect(row).toContainText("Proven");
  await expect(row).toContainText("no. 1, Ben Example");
  await expect(page.getByRole("row", { name: /Ada Example.*Line up/ })).toContainText("Not proven");

  await person.go("registers");
  await person.activate(button("People"));
  await person.activate(page.getByRole("button", { name: /Ada Example/ }).first());
  await expect(
    page.getByRole("region", { name: "Practice" }).getByRole("row", { name: /Read tenths/ }),
  ).toContainText("Proven");
});

test("an examiner withdraws a certificate by keyboard; screen, paper and the lists say so, and it is read as before", async () => {
  test.slow();
  const examinerId = await examiner("Ben Example", "BE");
  const attemptId = await readTenths(page);
  await callFrom(page, "practice.sign", {
    requestId: newRequest(),
    attemptId,
    examinerId,
    pin: PIN,
    words: "watched at the bench",
  });
  await anew();
  await person.go("practice");
  const exercise = page.getByRole("region", { name: "Read tenths" });
  await expect(exercise).toContainText(/Taken as proven until \d{4}/);
  await person.activate(exercise.getByRole("button", { name: "Last result" }));
  await person.activate(button("Withdraw the certificate"));
  await person.tabTo(page.getByLabel("Examiner", { exact: true }));
  await page.keyboard.type("Ben");
  await person.fill("PIN", PIN);
  await person.press("Control+Enter");
  await expect(page.getByText(/Enter a reason in words/).first()).toBeVisible();
  await person.fill("PIN", PIN);
  await person.fill("Reason for the withdrawal", "the free view stood open beside it");
  await person.press("Control+Enter");
  const certificate = page.getByRole("region", { name: "Certificate of practice" });
  await expect(certificate.getByRole("heading")).toHaveText("Certificate of practice no. 1, withdrawn");
  await expect(certificate).toContainText(/Withdrawn by Ben Example, .*: the free view stood open beside it/);
  await expect(certificate).toContainText("watched at the bench");
  const verdict = page.getByText(/^Criteria met: certificate withdrawn on \d{4}-\d\d-\d\d, no longer taken/);
  await expect(verdict).toBeVisible();
  await seenInBothThemes(page, "practice-withdrawn");
  await page.emulateMedia({ media: "print" });
  await expect(verdict).toBeVisible();
  await expect(certificate).toContainText(/Withdrawn by Ben Example/);
  await expect(certificate.getByText("Examiner, by hand")).toBeHidden();
  await page.emulateMedia({ media: null });

  await person.activate(button("Results"));
  await expect(page.getByRole("row", { name: /Ada Example.*Read tenths/ })).toContainText(/withdrawn \d{4}/);
  await person.activate(button("Proven"));
  const row = page.getByRole("row", { name: /Ada Example.*Read tenths/ });
  await expect(row).toContainText(/Withdrawn/);
  await expect(row).toContainText("no. 1, Ben Example; withdrawn by Ben Example");
  await person.go("bench");
  await expect(page.getByText(/certificate no\. 1 was withdrawn on/).first()).toBeVisible();
});

test("where the laboratory asks for an examiner, a met attempt waits for one", async () => {
  await readTenths(page);
  await anew();
  await person.go("registers");
  await person.activate(button("Laboratory"));
  await person.choose("Practice", /once an examiner has signed/);
  await person.fill("Reason for the change", "the quality manual asks for it");
  await person.press("Control+Enter");
  await expect(page.getByText("The settings are kept.")).toBeVisible();
  await person.go("practice");
  await person.activate(button("Proven"));
  await expect(page.getByRole("row", { name: /Ada Example.*Read tenths/ })).toContainText(
    "Awaits an examiner",
  );
});

test("a method asks for an exercise by keyboard; its page says who is proven, and goes on saying it", async () => {
  await anew();
  await person.go("registers");
  await person.activate(button("Methods"));
  await person.activate(
    page
      .locator("main")
      .getByRole("button", { name: /version 1/ })
      .first(),
  );
  await expect(page.getByText("Practice: who is proven for it")).toHaveCount(0);
  await person.activate(button("New version"));
  const asked = page.getByRole("group", { name: "To be proven in practice before work by this method" });
  await person.tabTo(asked.getByRole("checkbox", { name: "Read tenths" }));
  await person.press("Space", "Control+Enter");
  const proven = page.getByRole("region", { name: "Practice: who is proven for it" });
  await expect(proven).toContainText("It asks for Read tenths.");
  await expect(proven.getByRole("row", { name: /Ada Example/ })).toContainText("Lacks Read tenths");
  await readTenths(page);
  await anew();
  await expect(proven.getByRole("row", { name: /Ada Example/ })).toContainText(/Proven.*\d{4}-\d\d-\d\d/);
  await seenInBothThemes(page, "method-asking");
});

test("a sheet of somebody not proven is marked where the laboratory asks for it, and takes its rows", async () => {
  await anew();
  await person.go("registers");
  await person.activate(button("Laboratory"));
  const asked = page.getByRole("group", { name: "To be proven in practice before work on sheets" });
  await person.tabTo(asked.getByRole("checkbox", { name: "Read tenths" }));
  await person.press("Space");
  await person.fill("Reason for the change", "the quality manual asks for it");
  await person.press("Control+Enter");
  await expect(page.getByText("The settings are kept.")).toBeVisible();
  const [sheet] = await callFrom(page, "sheets.list", {});
  await person.go("measure");
  await person.activate(page.getByRole("button", { name: new RegExp(sheet?.number ?? "no sheet") }).first());
  await page.getByRole("grid").waitFor();
  await expect(
    page.getByText(/Practice: Ada Example has no proof that is asked for \(“Read tenths”\)\./),
  ).toBeVisible();
  await page.keyboard.type("23.0");
  await person.press("Enter");
  await page.keyboard.type("51.5");
  await person.press("Enter");
  await expect(page.getByText("28.5").first()).toBeVisible();
  await person.go("records");
  await person.activate(page.getByRole("button", { name: `Details of ${sheet?.number}` }));
  await expect(page.getByText(/Practice: Ada Example worked on .* \(“Read tenths”\)\./)).toBeVisible();
});
