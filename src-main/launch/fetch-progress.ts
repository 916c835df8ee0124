import { readFileSync, renameSync, writeFileSync } from "node:fs";

/** How far a download of Electron is, as the process that runs it writes it down. */
export interface FetchProgress {
  /** Of the process that fetches. */
  readonly pid: number;
  /** 0 … 100; 0 until the first bytes have come. */
  readonly percent: number;
  readonly state: "fetching" | "done" | "failed";
}

/** Replaces what is written there, whole. */
export function writeProgress(file: string, progress: FetchProgress): void {
  writeFileSync(`${file}.part`, JSON.stringify(progress));
  renameSync(`${file}.part`, file);
}

/** What the last download came to; one whose process has gone has failed. Null when there was none. */
export function readProgress(file: string): FetchProgress | null {
  try {
    const { pid, percent, state } = JSON.parse(readFileSync(file, "utf8")) as FetchProgress;
    if (!Number.isInteger(pid) || typeof percent !== "number") return null;
    return { pid, percent, state: state === "fetching" && !isAlive(pid) ? "failed" : state };
  } catch {
    return null;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Somebody else's process: it is there.
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
