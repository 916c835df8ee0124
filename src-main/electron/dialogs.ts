import { extname } from "node:path";
import { type BrowserWindow, dialog } from "electron";
import type { RecoveryQuestion } from "./service-messages.ts";

/** What a file is, by its ending. */
const FILE_KINDS: Readonly<Record<string, string>> = {
  xlsx: "Workbook",
  csv: "Table",
  json: "Records",
  pdf: "Report",
  sqlite: "Bench",
  png: "Picture",
  jpg: "Picture",
  jpeg: "Picture",
  svg: "Picture",
};

/** Asks where an export goes; null when the person cancels. */
export async function chooseExportPath(
  window: BrowserWindow | null,
  suggested: string,
): Promise<string | null> {
  const extension = extname(suggested).slice(1);
  const name = FILE_KINDS[extension] ?? extension;
  const options = {
    title: `Save the ${name.toLowerCase()}`,
    defaultPath: suggested,
    filters: [{ name, extensions: [extension] }],
    // Windows and macOS ask before a file is replaced; GTK does when it is told to.
    properties: ["showOverwriteConfirmation" as const],
  };
  const chosen = await (window === null
    ? dialog.showSaveDialog(options)
    : dialog.showSaveDialog(window, options));
  return chosen.canceled || chosen.filePath === "" ? null : chosen.filePath;
}

/**
 * Shows a bench that does not open and lets the person choose a way out; closing the question changes nothing.
 * @returns the number of the way out, from 0; null for none
 */
export async function chooseRecovery({ message, hint, offers }: RecoveryQuestion): Promise<number | null> {
  const { response } = await dialog.showMessageBox({
    type: "warning",
    title: "Linefall",
    message,
    detail: hint,
    buttons: [...offers, "Change nothing and quit"],
    cancelId: offers.length,
    defaultId: offers.length,
    noLink: true,
  });
  return response < offers.length ? response : null;
}

/** Says why the program cannot go on. */
export function showTrouble(message: string, hint: string): void {
  dialog.showErrorBox(message, hint);
}

/** Says that the process which keeps the bench was started again; nobody has to wait for the answer. */
export async function sayRestarted(window: BrowserWindow | null): Promise<void> {
  const options = {
    type: "warning" as const,
    title: "Linefall",
    message: "The part of Linefall that keeps the bench had stopped and was started again.",
    detail:
      "What was acknowledged is stored; what was on its way is sent again. An export or a check under way has to be started anew. If this happens again, report it with the file faults.log of the bench folder.",
    buttons: ["Go on"],
  };
  await (window === null ? dialog.showMessageBox(options) : dialog.showMessageBox(window, options));
}

/**
 * Asks before a window closes that has something to store.
 * @param unsaved what that is, a line each
 * @returns whether it should close all the same
 */
export async function askToClose(window: BrowserWindow, unsaved: readonly string[]): Promise<boolean> {
  const lines = unsaved.length === 0 ? ["something in this window"] : unsaved;
  const { response } = await dialog.showMessageBox(window, {
    type: "question",
    title: "Linefall",
    message: "Not everything in this window is stored on the bench.",
    detail: ["Not stored yet:", ...lines.map((line) => `• ${line}`)].join("\n"),
    buttons: ["Keep the window open", "Close all the same"],
    cancelId: 0,
    defaultId: 0,
    noLink: true,
  });
  return response === 1;
}

/** @returns whether the window should be loaded again */
export async function offerReload(window: BrowserWindow, why: string): Promise<boolean> {
  const { response } = await dialog.showMessageBox(window, {
    type: "warning",
    title: "Linefall",
    message: `The window has stopped (${why}).`,
    detail: "What was acknowledged is stored.",
    buttons: ["Load the window again", "Quit"],
    cancelId: 1,
    defaultId: 0,
  });
  return response === 0;
}
