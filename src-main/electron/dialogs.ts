import { extname } from "node:path";
import { type BrowserWindow, dialog } from "electron";
import type { ChooseRecovery } from "../open-or-recover.ts";

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
  };
  const chosen = await (window === null
    ? dialog.showSaveDialog(options)
    : dialog.showSaveDialog(window, options));
  return chosen.canceled || chosen.filePath === "" ? null : chosen.filePath;
}

/** Shows a bench that does not open and lets the person choose a way out; closing the question changes nothing. */
export const chooseRecovery: ChooseRecovery = async (trouble) => {
  const buttons = [...trouble.offers.map((offer) => offer.words), "Change nothing and quit"];
  const nothing = buttons.length - 1;
  const { response } = await dialog.showMessageBox({
    type: "warning",
    title: "Linefall",
    message: trouble.message,
    detail: trouble.hint,
    buttons,
    cancelId: nothing,
    defaultId: nothing,
    noLink: true,
  });
  return trouble.offers[response] ?? null;
};

/** Says why the program cannot go on. */
export function showTrouble(message: string, hint: string): void {
  dialog.showErrorBox(message, hint);
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
