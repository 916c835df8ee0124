import { access, mkdir } from "node:fs/promises";
import { basename, join } from "node:path";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { Refusal } from "../dispatch/refusals.ts";
import { writeWorkbook } from "../workbook/workbook.ts";
import type { Deps } from "./deps.ts";
import { withSheetBundle } from "./sheet-bundle.ts";
import { requireSheet } from "./sheets.ts";

/** What the machine said, in words; codes of the file system that a person can do something about. */
const WORDS: Readonly<Record<string, string>> = {
  ENOSPC: "the disk is full",
  EDQUOT: "your share of the disk is used up",
  EACCES: "this folder may not be written to",
  EPERM: "this folder may not be written to",
  EROFS: "this folder can only be read",
  ENOENT: "the folder is not there",
  ENOTDIR: "a part of the path is a file, not a folder",
  EISDIR: "a folder has that name",
  EEXIST: "a file stands where the folder should be",
  EBUSY: "the file is open in another program",
  ENAMETOOLONG: "the name is too long",
  EIO: "the disk did not take it",
};

function systemCode(error: unknown): string | null {
  if (!(error instanceof Error) || !("syscall" in error) || !("code" in error)) return null;
  return String(error.code);
}

async function isThere(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}

/** A name nobody uses yet: an earlier workbook may hold somebody's remarks and is never written over unasked. */
async function freePath(folder: string, stem: string): Promise<string> {
  for (let copy = 1; ; copy += 1) {
    const path = join(folder, copy === 1 ? `${stem}.xlsx` : `${stem} (${copy}).xlsx`);
    if (!(await isThere(path))) return path;
  }
}

async function placeFor(deps: Deps, stem: string): Promise<string | null> {
  if (deps.chooseExportPath) return deps.chooseExportPath(`${stem}.xlsx`);
  await mkdir(deps.paths.exportFolder, { recursive: true });
  return freePath(deps.paths.exportFolder, stem);
}

/** @throws Refusal `file.unwritable` in place of an error of the file system */
async function orUnwritable<T>(what: string, write: () => Promise<T>): Promise<T> {
  try {
    return await write();
  } catch (error) {
    const code = systemCode(error);
    if (code === null) throw error;
    throw new Refusal("file.unwritable", `${what} could not be written: ${WORDS[code] ?? code}.`, {
      hint: "Choose another folder or make room, then export again. Nothing on the bench was changed, and an earlier file of that name is as it was.",
    });
  }
}

/** A sheet as a workbook, where the host says; null when the person cancels. */
export function exportServices(deps: Deps): HandlersOf<"exports.workbook"> {
  return {
    "exports.workbook": async ({ sheetId, kind }) => {
      const { number } = requireSheet(deps.db, sheetId);
      const stem = `${number}${kind === "values" ? "-values" : ""}`;
      // Asked before the snapshot is taken: a dialog may stay open for an hour.
      const path = await orUnwritable(deps.paths.exportFolder, () => placeFor(deps, stem));
      if (path === null) return null;
      const written = await orUnwritable(path, () =>
        withSheetBundle(deps, sheetId, (bundle) => writeWorkbook(bundle, kind, path)),
      );
      const fileName = basename(path);
      return { fileName, path, ...written, download: deps.downloadAddress(fileName) };
    },
  };
}
