import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { type BuiltFiles, readFixedFiles } from "../ports/built-files.ts";

const PAGES = fileURLToPath(new URL("pages", import.meta.url));
const ICON = new URL("../../resources/icon.svg", import.meta.url);

/** What a browser may load before it has a session: the entry page, the scripts beside it, and the program's icon. */
export async function readEntryFiles(): Promise<BuiltFiles> {
  const [pages, body] = await Promise.all([readFixedFiles(PAGES), readFile(ICON)]);
  return new Map(pages).set("/icon.svg", { body, type: "image/svg+xml" });
}
