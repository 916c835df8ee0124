import { access, mkdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { ExportFormat } from "#core/contract/records/exchange.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { noteExportPlace } from "../../store/bench-file/export-notes.ts";
import { PRIVATE_FOLDER } from "../../store/bench-file/private-files.ts";
import type { Deps } from "./deps.ts";
import { requireOutsideBench } from "./outside-bench.ts";

/** How the name of an exported file ends. */
export const EXPORT_EXTENSIONS: Readonly<Record<ExportFormat, string>> = {
  "live workbook": ".xlsx",
  "values workbook": "-values.xlsx",
  csv: ".csv",
  json: ".json",
};

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
async function freePath(folder: string, stem: string, extension: string): Promise<string> {
  for (let copy = 1; ; copy += 1) {
    const path = join(folder, copy === 1 ? `${stem}${extension}` : `${stem} (${copy})${extension}`);
    if (!(await isThere(path))) return path;
  }
}

/**
 * Where an export goes, as the host says; null when the person cancels.
 * @throws Refusal `file.unwritable` for a place among the bench's own files
 */
export async function placeFor(
  deps: Pick<Deps, "paths" | "chooseExportPath">,
  stem: string,
  extension: string,
): Promise<string | null> {
  const path = await chosenPlace(deps, stem, extension);
  if (path === null) return null;
  await requireOutsideBench(path, deps.paths);
  // What a kill leaves in the bench's own folder for exports is found without a note.
  if (dirname(path) !== deps.paths.exportFolder) noteExportPlace(deps.paths, path);
  return path;
}

async function chosenPlace(
  { paths, chooseExportPath }: Pick<Deps, "paths" | "chooseExportPath">,
  stem: string,
  extension: string,
): Promise<string | null> {
  if (chooseExportPath) return chooseExportPath(`${stem}${extension}`);
  await mkdir(paths.exportFolder, { recursive: true, mode: PRIVATE_FOLDER });
  return freePath(paths.exportFolder, stem, extension);
}

/** @throws Refusal `file.unwritable` in place of an error of the file system */
export async function mapWriteErrors<T>(what: string, write: () => Promise<T>): Promise<T> {
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
