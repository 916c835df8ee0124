import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "@playwright/test";
import { HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

/** Of 100 beads each; the last lost half of them. Invented. */
const FOUND = [96, 103, 91, 99, 105, 94, 98, 48];

test("recoveries of a known addition are named count by count, and the one that lost half stands beyond its limits", async ({
  context,
}) => {
  const program = await startProgram();
  const { window, page, person } = await openPreparedWindow(context, program, async (at) => {
    await readyBench(at);
    const method = await callFrom(at, "countMethods.define", {
      requestId: newRequest(),
      familyId: null,
      definition: HAEMOCYTOMETER,
    });
    for (const [i, objects] of FOUND.entries()) {
      const { id: countId } = await callFrom(at, "counts.open", {
        requestId: newRequest(),
        position: null,
        count: {
          sample: `Beads ${i + 1}`,
          note: "",
          countMethodId: method.id,
          train: null,
          categories: HAEMOCYTOMETER.categories,
          inputs: { dilution: "1" },
          batch: "",
        },
      });
      const press = { category: "unstained", weight: String(objects), rowId: null, waitedMs: 0 };
      await callFrom(at, "counts.pressMany", {
        countId,
        acts: [{ kind: "press", requestId: newRequest(), ...press }],
      });
      await callFrom(at, "counts.close", { requestId: newRequest(), countId, lastFieldCounted: true });
      if (i === FOUND.length - 1) continue;
      await callFrom(at, "counts.setControl", {
        requestId: newRequest(),
        countId,
        control: {
          kind: "recovery",
          of: "total",
          against: "objects",
          stated: "100",
          expanded: "",
          portion: "",
          background: "",
          source: "beads of lot 7",
        },
        reason: "",
      });
    }
  });
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /^Open count T-0008/ }));
  await person.activate(page.getByRole("button", { name: "It is a control sample …" }));
  const dialog = page.getByRole("dialog");
  await expect(dialog.getByLabel("The count is of")).toBeFocused();
  await page.keyboard.type("a sample of known");
  await person.tabTo(dialog.getByLabel("Stated", { exact: false }).last());
  await person.fill("Stated", "none");
  await person.press("Control+Enter");
  await expect(dialog.getByText(/^Not saved/)).toBeVisible();
  await person.fill("Stated", "100");
  await person.fill("Who states it", "beads of lot 7");
  await seenInBothThemes(page, "control-form");
  await person.press("Control+Enter");
  await expect(dialog).toHaveCount(0);
  await expect(page.getByText(/^Recovery 48 %, 95 % limits 35\.4 to 63\.6 %$/)).toBeVisible();

  await person.activate(page.getByRole("button", { name: "Its series" }));
  await expect(page.getByRole("img", { name: "Recoveries, %" })).toBeVisible();
  await expect(page.getByText(/Beyond what the earlier ones allow: T-0008\./)).toBeVisible();
  await expect(page.getByRole("row", { name: /^T-0008/ })).toContainText("beyond");
  await expect(page.getByRole("row", { name: /^T-0007/ })).toContainText("within");
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  await seenInBothThemes(page, "control-series");
  await person.activate(page.getByRole("button", { name: "Workbook" }));
  await expect(page.getByText(/\.xlsx/).first()).toBeVisible();
  await person.tabTo(page.getByLabel("Control samples", { exact: true }));
  await page.keyboard.type("blanks");
  await expect(page.getByText(/^None is closed yet/)).toBeVisible();
  await endWithoutFaults(window, program);
});
