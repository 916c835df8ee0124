import { expect, test } from "@playwright/test";
import { startLoopbackProgram } from "../support/loopback-program.ts";
import { endWithoutFaults, openMeasureWindow } from "./measure-window.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

/** Thirty values of 7.0 to 9.0 div without a label: each has fewer divisions than the method asks for. Invented. */
const ROWS = Array.from({ length: 30 }, (_, at) => `\t10\t${(17 + (at % 21) / 10).toFixed(1)}`).join("\n");

test("what is true of every row is said once, and a value apart from the rest is named, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const program = await startLoopbackProgram();
  const { window, page, person } = await openMeasureWindow(context, program, { rows: ROWS });
  const findings = page.getByRole("list", { name: "Findings of this sheet" });
  await expect(findings).toContainText("Length: few divisions in all 30 measurements.");
  const flags = 8;
  await person.expectCell(30, flags, "");
  await person.take("10", "38.5");
  await person.expectStored(31);
  await expect(findings.getByRole("listitem").first()).toContainText(
    "Length: 1 value apart from the other 30: row 31.",
  );
  await expect(findings).toContainText("few divisions in 30 of 31 measurements");
  await person.expectCell(31, flags, /stands apart/);
  await person.expectCell(30, flags, "");
  const explained = page.getByRole("region", { name: "Flags of row 31" });
  await person.press("ArrowUp");
  await expect(explained).toContainText(
    "The size lies apart from the other values of its label on this sheet",
  );
  await expect(explained).toContainText("median on this sheet");
  // A right value: nothing is said of it, and the tone is the plain one.
  await person.press("ArrowDown");
  await person.take("10", "18.2");
  await person.expectStored(32);
  await expect(page.getByRole("region", { name: "Last result" })).not.toContainText("few divisions");
  await expect(findings).toContainText("1 value apart from the other 31: row 31.");
  await seenInBothThemes(page, "sheet-findings");
  await endWithoutFaults(window, program);
});
