import { expect, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { openMeasureWindow } from "./measure-window.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;

test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

test("who left is set aside with a reason: no list offers the name, records keep it, and it can come back", async ({
  context,
}) => {
  test.slow();
  const { page, person, window } = await openMeasureWindow(context, program, {
    rows: "A1\t10\t40",
    prepare: async (at) => {
      const bo = await callFrom(at, "people.register", {
        requestId: newRequest(),
        person: { name: "Bo Example", initials: "BE", interpupillaryMm: "" },
      });
      const present = (await callFrom(at, "bench.status", {})).personInUse?.id ?? "";
      await callFrom(at, "people.choose", { personId: bo.id });
      await callFrom(at, "people.choose", { personId: present });
    },
  });
  const button = (name: string | RegExp) => page.getByRole("button", { name });
  const standing = page.locator("main").getByRole("button", { name: /^(Set aside|Bring back): / });

  await person.go("registers");
  await person.activate(button(/^People/));
  await person.activate(button(/^Ada Example.*AE/));
  await person.activate(button("Set aside: Ada Example"));
  await page.keyboard.type("left");
  await person.press("Control+Enter");
  await expect(
    page.getByRole("alert").or(page.getByText("Ada Example is at the bench.")).first(),
  ).toBeVisible();
  await expect(page.getByText("Choose another person at the bench first (F4).")).toBeVisible();
  await person.activate(button("Cancel"));

  await person.activate(button(/^Bo Example/));
  await person.activate(button("Set aside: Bo Example"));
  await person.press("Control+Enter");
  await expect(page.locator("input[id^=form-standing-]")).toHaveAttribute("aria-invalid", "true");
  await page.keyboard.type("went to another laboratory");
  await person.press("Control+Enter");
  await expect(
    page.getByText(/^Set aside since .*, went to another laboratory \(Ada Example\)$/),
  ).toBeVisible();
  await expect(button(/^Bo Example.*set aside/)).toBeVisible();
  await seenInBothThemes(page, "person-set-aside");

  await person.press("F4");
  const who = page.getByRole("dialog");
  await expect(who.getByRole("button", { name: /^Ada Example/ })).toBeVisible();
  await expect(who.getByRole("button", { name: /^Bo Example/ })).toHaveCount(0);
  await person.press("Escape");

  // In what is looked for and on what is recorded the name stays.
  await person.go("records");
  await page.getByText("Narrow the list").press("Enter");
  await expect(page.getByRole("combobox", { name: "By" })).toContainText("Bo Example");
  await person.activate(button("Audit trail"));
  const trail = page.getByRole("table", { name: /^Audit trail/ });
  await expect(trail.getByText("set a person aside or brought one back")).toBeVisible();
  await expect(
    trail.getByRole("row", { name: /came to the bench/ }).filter({ hasText: "Bo Example" }),
  ).not.toHaveCount(0);

  await person.go("registers");
  await person.activate(button(/^People/));
  await person.activate(button(/^Bo Example/));
  await person.activate(standing);
  await page.keyboard.type("back for the season");
  await person.press("Control+Enter");
  await expect(page.getByText(/^Works here again since .*, back for the season/)).toBeVisible();
  await person.press("F4");
  await expect(who.getByRole("button", { name: /^Bo Example/ })).toBeVisible();
  expect(window.faults).toEqual([]);
});
