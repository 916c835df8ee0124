import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

test("the presses of a closed count are followed by keyboard, and end at its counts", async ({ context }) => {
  const { page, faults } = await openBenchWindow(context, program.address);
  const person = new KeyboardPerson(page);
  const counts = await callFrom(page, "counts.list", {});
  const closed = counts.find(({ state }) => state === "closed");
  if (!closed) throw new Error("the demo bench has a closed count");
  const { count } = await callFrom(page, "counts.state", { countId: closed.id });
  const { last, events } = await callFrom(page, "counts.events", {
    countId: closed.id,
    from: 1,
    count: 5000,
  });
  await person.go("count");
  await person.activate(page.getByRole("button", { name: new RegExp(closed.number) }).first());
  await person.activate(page.getByRole("button", { name: "Follow the presses" }));

  const slider = page.getByRole("slider", { name: /^Press 1 of / });
  await expect(slider).toBeVisible();
  const table = page.getByRole("table", { name: "Objects after this press" });
  const line = (name: string) => table.locator("tbody tr", { has: page.getByText(name, { exact: true }) });
  const first = events[0];
  const nameOf = (key: string | null | undefined) =>
    count.categories.find((one) => one.key === key)?.name ?? "";
  await expect(line(nameOf(first?.category)).locator("td").last()).toHaveText("1");

  await person.tabTo(page.getByRole("slider"));
  await person.press("ArrowRight", "ArrowRight");
  await expect(page.getByRole("slider", { name: `Press 3 of ${last}` })).toBeVisible();
  await person.press("End");
  await expect(page.getByRole("slider", { name: `Press ${last} of ${last}` })).toBeVisible();
  const { results } = await callFrom(page, "counts.results", { countId: closed.id });
  for (const { key, name } of count.categories) {
    const pressed = events
      .filter((event) => event.category === key && event.kind !== "undo" && event.struckBy === null)
      .reduce((sum, { weight }) => sum + Number(weight), 0);
    await expect(line(name).locator("td").last()).toHaveText(String(pressed));
  }
  expect(Number(results.total)).toBeGreaterThan(0);

  await person.activate(page.getByRole("button", { name: "First press" }));
  await person.activate(page.getByRole("button", { name: "Play", exact: true }));
  await expect(page.getByRole("slider", { name: /^Press (?!1 )\d+ of / })).toBeVisible();
  await person.activate(page.getByRole("button", { name: "Pause" }));
  const paused = await page.getByRole("slider").getAttribute("value");
  await person.activate(page.getByRole("button", { name: "Next field" }));
  await expect(page.getByText(/field 2 begins/)).toBeVisible();
  expect(Number(paused)).toBeGreaterThan(1);
  expect(faults).toEqual([]);
});
