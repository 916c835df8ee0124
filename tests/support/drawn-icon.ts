import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Page } from "@playwright/test";

/** Large enough for every system's icon formats. */
export const ICON_PIXELS = 1024;
export const ICON_SVG = fileURLToPath(new URL("../../resources/icon.svg", import.meta.url));
export const ICON_PNG = fileURLToPath(new URL("../../resources/icon.png", import.meta.url));

/** The icon's SVG drawn by the browser as a PNG of `ICON_PIXELS` square, its corners transparent. */
export async function drawnIcon(page: Page): Promise<Buffer> {
  await page.setViewportSize({ width: ICON_PIXELS, height: ICON_PIXELS });
  await page.setContent(
    `<style>body { margin: 0 } svg { display: block }</style>${readFileSync(ICON_SVG, "utf8")}`,
  );
  return page.screenshot({ omitBackground: true });
}
