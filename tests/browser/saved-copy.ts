import { existsSync, renameSync } from "node:fs";
import { basename, join } from "node:path";
import { expect, type Page } from "@playwright/test";
import { shapedAt } from "../electron-shaped/shaped-program.ts";

export interface SavedCopy {
  readonly path: string;
  readonly name: string;
}

/**
 * What the person has in hand after an export: in a browser the copy its link gives, in Electron the file that was
 * written where the save dialog said, under the name it suggested.
 * @param page shows the export as done
 * @param takeLink presses the window's link
 */
export async function savedCopy(
  page: Page,
  takeLink = () => page.getByRole("link", { name: "Save a copy from this window" }).click(),
): Promise<SavedCopy> {
  const shaped = shapedAt(page.url());
  if (shaped === null) {
    const [download] = await Promise.all([page.waitForEvent("download"), takeLink()]);
    return { path: await download.path(), name: download.suggestedFilename() };
  }
  const { saveDialogs } = await shaped.booted.look();
  const name = basename(String(saveDialogs.at(-1)?.defaultPath));
  const path = join(shaped.saveFolder, name);
  await expect.poll(() => existsSync(path)).toBe(true);
  // Out of the way of the next file of that name, about which the system would ask.
  const kept = join(shaped.saveFolder, `${saveDialogs.length} ${name}`);
  renameSync(path, kept);
  return { path: kept, name };
}
