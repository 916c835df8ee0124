import { expect, type Locator, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

/** Numbers of a printed line, thin spaces and true minus signs read as a person reads them. */
const numbersOf = (words: string | null): number[] =>
  (
    (words ?? "")
      .replaceAll("\u2009", "")
      .replaceAll("−", "-")
      .match(/-?\d+(?:\.\d+)?/g) ?? []
  ).map(Number);

async function columnOf(table: Locator, title: string): Promise<number[]> {
  const titles = await table.locator("thead th").allTextContents();
  const at = titles.findIndex((one) => one.replace(/\s+/g, " ").trim() === title);
  expect(at, title).toBeGreaterThan(-1);
  const cells = await table.locator(`tbody tr > :nth-child(${at + 1})`).allTextContents();
  return cells.map((cell) => numbersOf(cell)[0] ?? Number.NaN);
}

test("a reviewer recomputes a result and its factor from one page, with a pocket calculator", async ({
  context,
}) => {
  const { page } = await openBenchWindow(context, program.address);
  const person = new KeyboardPerson(page);
  const [somebody] = await callFrom(page, "people.list", {});
  if (somebody) await callFrom(page, "people.choose", { personId: somebody.id });
  await page.reload();
  const [sheet] = await callFrom(page, "sheets.list", {});
  if (!sheet) throw new Error("the demo bench has sheets");
  await person.go("measure");
  await person.activate(page.getByRole("button", { name: new RegExp(`^Measure on sheet ${sheet.number}`) }));
  await page.getByRole("grid").waitFor();
  await person.press("Control+Home");
  await person.press("F9");
  await page.getByRole("heading", { name: /^1 · Result: / }).waitFor();
  await person.activate(page.getByRole("button", { name: "Recompute by hand" }));
  await page.getByRole("heading", { name: /^1 · Size: / }).waitFor();

  const fact = async (label: string) =>
    numbersOf(
      await page
        .locator("dt", { hasText: new RegExp(`^${label}$`) })
        .first()
        .locator("+ dd")
        .textContent(),
    );
  const [divisions = 0, factor = 0, ...rest] = await fact("Size");
  const angle = rest.length === 2 ? (rest[0] ?? 1) : 1;
  const size = rest.at(-1) ?? 0;
  expect(divisions * factor * angle).toBeCloseTo(size, 4);

  const budget = page.getByRole("table", { name: /^Contributions/ });
  const products = await columnOf(budget, "Product / µm");
  const [inputs, sensitivities] = [await columnOf(budget, "u"), await columnOf(budget, "Sensitivity")];
  products.forEach((product, at) => {
    expect((inputs[at] ?? 0) * (sensitivities[at] ?? 0)).toBeCloseTo(product, 5);
  });
  const u = Math.sqrt(products.reduce((sum, one) => sum + one ** 2, 0));
  const [k = 0] = await fact("k");
  const recorded = await page
    .getByText(/ ± .* µm$/)
    .first()
    .textContent();
  const [value = "", expanded = ""] = (recorded ?? "").replace(" µm", "").split(" ± ");
  const places = value.split(".")[1]?.length ?? 0;
  expect(size.toFixed(places)).toBe(value);
  expect((k * u).toFixed(places)).toBe(expanded);

  const settings = page.getByRole("table", { name: /^Certified length/ });
  const [lengths, intervals] = [await columnOf(settings, "L / µm"), await columnOf(settings, "D / div")];
  const squares = lengths.reduce((sum, one) => sum + one ** 2, 0);
  const together = lengths.reduce((sum, one, at) => sum + one * (intervals[at] ?? 0), 0);
  const conditions = page.locator("dt", { hasText: "Temperature and angle of the scales" });
  const times =
    (await conditions.count()) === 0 ? 1 : ((await fact("Temperature and angle of the scales"))[0] ?? 1);
  expect((squares / together) * times).toBeCloseTo(factor, 5);
  await expect(page.getByText("The record does not agree")).toHaveCount(0);

  await person.press("Alt+ArrowLeft");
  await page.getByRole("heading", { name: "Traceability of this result" }).waitFor();
});
