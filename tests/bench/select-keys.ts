import type { Page } from "@playwright/test";

const PRESSES = 60;
const GAP_MS = 25;

interface Watched {
  readonly keyTimes: number[];
}

async function pressHeld(page: Page, held: string, keys: readonly string[]): Promise<void> {
  await page.keyboard.down(held);
  for (const key of keys) {
    await page.keyboard.press(key, { delay: GAP_MS });
    await page.waitForTimeout(GAP_MS);
  }
  await page.keyboard.up(held);
}

/** Main-thread work of the keys that select, ms: up and down from the last row, then columns, rows and everything. */
export async function timeSelecting(page: Page): Promise<number[]> {
  const before = await page.evaluate(() => (window as unknown as Watched).keyTimes.length);
  await pressHeld(page, "Shift", new Array<string>(PRESSES).fill("ArrowUp"));
  await pressHeld(page, "Shift", new Array<string>(PRESSES).fill("ArrowDown"));
  await pressHeld(page, "Control", ["Space", "a"]);
  await pressHeld(page, "Shift", ["Space", "ArrowUp", "PageUp", "PageUp", "PageDown"]);
  const times = await page.evaluate(() => (window as unknown as Watched).keyTimes);
  await page.keyboard.press("Escape");
  return times.slice(before);
}
