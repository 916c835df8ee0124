import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { tracedBench } from "./traced-bench.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** No serious finding of axe in either theme; F8 changes it and changes it back. */
async function expectAccessible(person: KeyboardPerson, what: string): Promise<void> {
  for (let theme = 0; theme < 2; theme += 1) {
    const { violations } = await new AxeBuilder({ page: person.page })
      .withTags(TAGS)
      // Rows of a long table are alike.
      .exclude("tbody tr:nth-child(n+4)")
      .analyze();
    const found = violations
      .filter(({ impact }) => impact === "serious" || impact === "critical")
      .map(({ id, nodes }) => `${what}: ${id}: ${nodes.map((node) => node.target.join(" ")).join(", ")}`);
    expect(found).toEqual([]);
    await person.press("F8");
  }
}

const button = (person: KeyboardPerson, name: string | RegExp) => person.page.getByRole("button", { name });
const heading = (person: KeyboardPerson, name: string | RegExp) =>
  person.page.getByRole("heading", { name }).first();

async function showSheet(person: KeyboardPerson, number: string): Promise<void> {
  await person.go("records");
  await person.activate(button(person, `Details of ${number}`));
  await heading(person, `Sheet ${number}`).waitFor();
}

async function changePerson(person: KeyboardPerson, personId: string): Promise<void> {
  await callFrom(person.page, "people.choose", { personId });
  await person.page.reload();
  await person.page.locator("main").waitFor();
}

async function setPin(person: KeyboardPerson, name: string, pin: string): Promise<void> {
  await person.go("registers");
  await person.activate(button(person, /^People/));
  await person.activate(button(person, new RegExp(`^${name}`)));
  await person.activate(button(person, "Set a PIN"));
  await person.fill("New PIN", pin);
  await person.fill("New PIN again", pin);
  await person.press("Control+Enter");
  await expect(person.page.getByText("The PIN is set.")).toBeVisible();
}

/** Ada closes, Bo reviews and signs. */
async function signFirstSheet(person: KeyboardPerson, reviewer: string): Promise<void> {
  await showSheet(person, "S-0001");
  await person.activate(button(person, "Close the sheet"));
  await person.press("Control+Enter");
  await expect(person.page.getByText("Closed: every change asks for its reason.")).toBeVisible();
  await changePerson(person, reviewer);
  await setPin(person, "Bo Example", "invented 42");
  await showSheet(person, "S-0001");
  await person.activate(button(person, "Review it"));
  await person.press("Control+Enter");
  await expect(person.page.getByText("Closed and reviewed by a second person.")).toBeVisible();
  await person.activate(button(person, "Sign with PIN"));
  await person.fill("PIN", "wrong guess");
  await person.press("Control+Enter");
  await expect(person.page.getByRole("alert")).toBeVisible();
  await person.fill("PIN", "invented 42");
  await person.press("Control+Enter");
  await expect(person.page.getByText(/^Signed\. A change takes review and signature away/)).toBeVisible();
  await expectAccessible(person, "record of a signed sheet");
}

/** The table is typed twice; the slip in the second entry is shown and settled from the certificate. */
async function replaceCertificate(person: KeyboardPerson): Promise<void> {
  await person.go("registers");
  await person.activate(button(person, /^Stage micrometers/));
  await person.activate(button(person, /^SM 1/));
  await heading(person, "Certificate C-1").waitFor();
  await expectAccessible(person, "stage micrometer");
  await person.activate(button(person, "Enter a corrected one"));
  // It starts from the one it corrects, each field marked until it is changed; its own number and the reason are asked.
  await expect(person.field("Laboratory")).toHaveValue("Invented Length Laboratory");
  await expect(person.field("Laboratory")).toHaveAccessibleDescription("As on C-1.");
  await expect(person.field("Certificate number")).toHaveValue("");
  await expect(person.page.getByText("Certified lines, as on the one it corrects")).toBeVisible();
  await person.fillAll({
    "Why it is replaced": "laboratory reports a wrong sign and scale of its errors",
    "Certificate number": "C-1 corrected",
    "Calibrated on": "2025-06-20",
    "Line 2, error: certified − marked": "2",
    "Line 3, error: certified − marked": "4",
  });
  await expect(person.field("Calibrated on")).not.toHaveAccessibleDescription(/As on C-1/);
  await expect(person.page.getByText("lines 2, 3 changed against the one it corrects")).toBeVisible();
  await person.activate(button(person, "Enter the table again to check it"));
  await expect(person.field("Line 1, marked")).toHaveCount(0);
  await person.fill("Second entry, line 1, marked", "0");
  await person.press("Enter");
  await person.take("0", "500", "2.0", "1000");
  await person.page.keyboard.type("40");
  await person.activate(button(person, "Compare the two entries"));
  await expect(person.page.getByText("The two entries differ in 1 place.")).toBeVisible();
  await expect(person.page.getByText(/Line 3, .*: once 4, once 40\./)).toBeVisible();
  await expectAccessible(person, "second entry with a slip");
  await person.fill("Line 3, error: certified − marked, as on the certificate", "4");
  await person.activate(button(person, "Take it for both"));
  await expect(person.page.getByText("Both entries of the table agree.")).toBeVisible();
  await person.press("Control+Enter");
  await expect(heading(person, "Certificate C-1: replaced")).toBeVisible();
}

/**
 * Expected sizes by hand, invented inputs: 28.5 div × 1000/96.4 = 295.6431… µm and 28.5 div × 1004/96.4 = 296.8257… µm for 10×,
 * and the same +4/1000 for every length, because the error grows in proportion.
 */
async function lookForward(person: KeyboardPerson): Promise<void> {
  const first = person.page
    .locator("section", { has: person.page.getByRole("heading", { name: "Certificate C-1: replaced" }) })
    .getByRole("button", { name: "Affected results" });
  await person.activate(first.last());
  await expect(person.page.getByText("300 results in 300 rows on 2 sheets, 1 of them signed.")).toBeVisible();
  await expect(person.page.getByText(/^With certificate C-1 corrected of SM 1 in its place/)).toBeVisible();
  await expectAccessible(person, "forward");
  await person.activate(button(person, "Rows of S-0001"));
  const rows = person.page.getByRole("table", { name: /^Results of S-000/ }).locator("tbody tr");
  await expect(rows).toHaveCount(150);
  await expect(rows.first()).toContainText("295.6 ±");
  await expect(rows.first()).toContainText("296.8 ±");
  await expect(rows.first()).toContainText("+1.2");
  await expect(rows.first()).toContainText("+0.40 %");
  await person.activate(button(person, "Rows of S-0002"));
  await expect(rows).toHaveCount(150);
  // The ten rows before rest on the other micrometer.
  await expect(rows.first().locator("th")).toHaveText("11");
  await expect(rows.last().locator("th")).toHaveText("160");
  await person.activate(button(person, "Write the list"));
  await expect(person.page.locator("pre")).toContainText("S-0001");
  await expect(person.page.locator("pre")).toContainText("S-0002");
}

test("a certificate is replaced: every result it touched is found, re-evaluated beside the old one, and signed anew", async ({
  context,
}) => {
  test.setTimeout(600_000);
  const window = await openBenchWindow(context, program.address);
  window.page.setDefaultTimeout(20_000);
  const person = new KeyboardPerson(window.page);
  const bench = await tracedBench(window.page);
  await window.page.reload();

  await signFirstSheet(person, bench.reviewer);
  await replaceCertificate(person);
  await lookForward(person);

  await person.fill("Reason", "corrected certificate C-1 of the laboratory");
  await person.press("Control+Enter");
  await expect(person.page.getByText("finished: 300 results converted")).toBeVisible({ timeout: 60_000 });

  await showSheet(person, "S-0001");
  await expect(person.page.getByText("This sheet asks for signature again.")).toBeVisible();
  await person.activate(button(person, "Trace back: row 1, Length"));
  await heading(person, "Traceability of this result").waitFor();
  await expect(person.page.getByText("28.5 div × 10.414937")).toBeVisible();
  const earlier = person.page.getByRole("table", { name: "Earlier results, kept" });
  await expect(earlier).toContainText("295.6 ±");
  await expect(earlier).toContainText("corrected certificate C-1 of the laboratory");
  await expect(heading(person, "6 · Laboratory: Invented Length Laboratory")).toBeVisible();
  await expectAccessible(person, "chain");

  const [, secondSheet] = bench.sheetIds;
  const untouched = await callFrom(person.page, "rows.page", {
    sheetId: secondSheet,
    from: 1,
    count: bench.others + 1,
  });
  const values = untouched.rows.map((row) => Number(row.measurements[0]?.size?.value));
  expect(values[0]).toBeCloseTo((28.5 * 1000) / 96.4, 9);
  expect(values[bench.others]).toBeCloseTo((28.5 * 251) / 96.4, 9);

  await person.go("records");
  await person.activate(button(person, "Verify"));
  await person.activate(button(person, "Verify now"));
  await expect(person.page.getByText("Everything agrees.")).toBeVisible({ timeout: 60_000 });
  await expect(person.page.getByText(/300 replaced results/)).toBeVisible();

  await person.go("measure");
  await person.activate(button(person, /^Measure on sheet S-0002/));
  await person.page.getByRole("grid").waitFor();
  await person.press("F9");
  await expect(heading(person, /^1 · Result: Length, row 160 of sheet S-0002/)).toBeVisible();
  expect(window.faults).toEqual([]);
});
