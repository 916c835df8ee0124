import type { BrowserWindow } from "electron";

/**
 * The page the window shows, as its own style sheet sets it for paper: size, margins and page numbers come from there.
 * @throws Error when there is no window, or the page cannot be printed
 */
export async function printToPdf(window: BrowserWindow | null): Promise<Uint8Array> {
  if (window === null) throw new Error("there is no window to print");
  return window.webContents.printToPDF({ preferCSSPageSize: true, printBackground: true });
}
