import { readFileSync, renameSync, statSync, writeFileSync } from "node:fs";

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

/** One that has not come on by a hundredth in this time has stopped, whoever bears its process's number by now. */
const STOPPED_MS = 30 * 60 * 1000;

/** What the last download came to; one whose process has gone has failed. Null when there was none. */
export function readProgress(file: string): FetchProgress | null {
  try {
    const { pid, percent, state } = JSON.parse(readFileSync(file, "utf8")) as FetchProgress;
    if (!Number.isInteger(pid) || typeof percent !== "number") return null;
    const hasStopped = !isAlive(pid) || Date.now() - statSync(file).mtimeMs > STOPPED_MS;
    return { pid, percent, state: state === "fetching" && hasStopped ? "failed" : state };
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
