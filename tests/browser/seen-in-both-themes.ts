import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page } from "@playwright/test";
import { keysOf } from "#renderer/window/keymap.ts";

const SIZES = [
  { width: 1280, height: 800 },
  { width: 1920, height: 1080 },
];

/**
 * Scans the page in both themes at both sizes, ends in the theme and size it began with; leaves pictures where a folder
 * is named for them.
 */
export async function seenInBothThemes(page: Page, name: string): Promise<void> {
  const folder = process.env.LINEFALL_PICTURES;
  const before = page.viewportSize();
  for (let turn = 0; turn < 2; turn += 1) {
    const theme = (await page.locator("html").getAttribute("data-theme")) ?? "";
    for (const size of SIZES) {
      await page.setViewportSize(size);
      const { violations } = await new AxeBuilder({ page })
        .withTags(["wcag2a", "wcag2aa", "wcag22aa"])
        .analyze();
      const where = `${name}, ${theme}, ${size.width}`;
      expect(violations.map((one) => `${where}: ${one.id}: ${one.nodes[0]?.html}`)).toEqual([]);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(overflow, `${where}: wider than the window`).toBeLessThanOrEqual(0);
      if (folder === undefined) continue;
      await page.screenshot({ path: join(folder, `${name}-${theme}-${size.width}.png`), fullPage: true });
    }
    await page.keyboard.press(keysOf("app.theme")[0] ?? "");
  }
  if (before) await page.setViewportSize(before);
}
