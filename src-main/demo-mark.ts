import { access, writeFile } from "node:fs/promises";
import { join } from "node:path";

/** Stands in a folder whose bench is invented, so that it can never pass for a real one, whoever opens it. */
const MARK = "invented-demo-bench.txt";

/** Whether the bench in this folder is the invented one. */
export function isDemoFolder(folder: string): Promise<boolean> {
  return isThere(join(folder, MARK));
}

export function markDemoFolder(folder: string): Promise<void> {
  return writeFile(join(folder, MARK), "Everything on this bench is invented.\n");
}

export function isThere(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}
