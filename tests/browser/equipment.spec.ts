import { createHash } from "node:crypto";
import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

/** The smallest PNG there is: one white pixel. Invented input. */
const PIXEL = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8/5+hHgAHggJ/PchI7wAAAABJRU5ErkJggg==",
  "base64",
);

const button = (person: KeyboardPerson, name: string | RegExp) => person.page.getByRole("button", { name });

async function expectAccessible(person: KeyboardPerson, what: string): Promise<void> {
  for (let theme = 0; theme < 2; theme += 1) {
    const { violations } = await new AxeBuilder({ page: person.page }).analyze();
    const found = violations
      .filter(({ impact }) => impact === "serious" || impact === "critical")
      .map(({ id, nodes }) => `${what}: ${id}: ${nodes.map((node) => node.target.join(" ")).join(", ")}`);
    expect(found).toEqual([]);
    await person.press("F8");
  }
}

test("a knock asks for a check, the check clears it, and a scan is kept with its SHA-256", async ({
  context,
}) => {
  test.setTimeout(600_000);
  const window = await openBenchWindow(context, program.address);
  window.page.setDefaultTimeout(20_000);
  const person = new KeyboardPerson(window.page);
  await readyBench(window.page);
  await window.page.reload();

  await person.go("registers");
  await person.activate(button(person, /^Microscopes/));
  await person.activate(button(person, "Record an event"));
  await person.tabTo(person.field("What happened"));
  await person.page.keyboard.type("knocked");
  await person.fill("In words", "stage knocked by a chair");
  await person.press("Control+Enter");
  await expect(person.page.getByRole("table", { name: "Events of Stand A" })).toContainText(
    "stage knocked by a chair",
  );
  await expectAccessible(person, "microscope");

  await person.go("bench");
  await person.activate(button(person, /Check 10×\/0\.25 on Stand A/));
  await expect(person.page.getByRole("heading", { name: "Quick check" })).toBeVisible();
  await expectAccessible(person, "quick check");
  // 96.4 div on 1 mm, as at the calibration.
  await person.fill("Setting 1, reticle left", "0.1");
  await person.press("Enter");
  await person.take("96.5", "0");
  await person.page.keyboard.type("100");
  await person.press("Control+Enter");
  await expect(person.page.getByText("Passed: the factor in force holds.")).toBeVisible();
  await person.go("bench");
  await expect(person.page.getByRole("article", { name: /Position 1/ })).not.toContainText(
    "check before use",
  );

  await person.go("registers");
  await person.activate(button(person, /^Stage micrometers/));
  await person.page
    .getByLabel("Attach a scan or photograph to certificate C-1 (PDF, PNG or JPEG)")
    .setInputFiles({ name: "C-1 page 1.png", mimeType: "image/png", buffer: PIXEL });
  await expect(person.page.getByText("Kept: C-1 page 1.png")).toBeVisible();
  const sha256 = createHash("sha256").update(PIXEL).digest("hex");
  await expect(person.page.getByText(sha256).first()).toBeVisible();
  await person.activate(button(person, "Show C-1 page 1.png"));
  await expect(person.page.getByRole("img", { name: "Scan C-1 page 1.png" })).toBeVisible();
  await person.page
    .getByLabel("Attach a scan or photograph to certificate C-1 (PDF, PNG or JPEG)")
    .setInputFiles({ name: "page.pdf", mimeType: "application/pdf", buffer: Buffer.from("no PDF at all") });
  await expect(person.page.getByText("page.pdf is not a PNG, JPEG or PDF file")).toBeVisible();

  await person.activate(button(person, "Take out of service: SM 1"));
  await person.fill("Reason", "scratched over the middle");
  await person.press("Control+Enter");
  await expect(person.page.getByText(/SM 1: out of service since/)).toBeVisible();
  await person.activate(button(person, "Labels to print"));
  await expect(person.page.getByText(/OUT OF SERVICE since/)).toBeVisible();

  await person.activate(button(person, /^Microscopes/));
  await person.activate(button(person, "Scans, history of objective 10×/0.25, position 1"));
  const part = person.page.getByRole("region", { name: "objective 10×/0.25, position 1", exact: true });
  await part
    .getByLabel(/^Attach a scan or photograph to objective 10×\/0\.25, position 1/)
    .setInputFiles({ name: "ring.png", mimeType: "image/png", buffer: PIXEL });
  await expect(part.getByText("Kept: ring.png")).toBeVisible();
  await person.activate(part.getByText("History of objective 10×/0.25, position 1"));
  await expect(part.getByRole("table", { name: /^Audit trail of objective/ })).toContainText(
    "attached a scan or photograph",
  );
  await expectAccessible(person, "one objective");
  await person.activate(button(person, "Close objective 10×/0.25, position 1"));
  await expect(part).toHaveCount(0);
  await person.activate(button(person, "Scans, history of eyepiece 10×/22 with its reticle"));
  await expect(
    person.page.getByRole("region", { name: "eyepiece 10×/22 with its reticle", exact: true }),
  ).toContainText("Nothing is attached.");
  await person.activate(button(person, "Bench card"));
  await expect(person.page.getByRole("table", { name: "Factors of Stand A" })).toContainText("10.37");
  await expectAccessible(person, "bench card");
  await person.page.emulateMedia({ media: "print" });
  await expect(button(person, "Print or save as PDF")).toBeHidden();
  await expect(person.page.getByText(/^As of .* printed by Ada Example/)).toBeVisible();
  expect(window.faults).toEqual([]);
});
