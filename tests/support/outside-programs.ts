import { execFileSync, spawnSync } from "node:child_process";
import { existsSync } from "node:fs";

/** True where the program runs with these arguments and ends well. */
export function answers(program: string, args: readonly string[]): boolean {
  return spawnSync(program, args, { stdio: "ignore", timeout: 60_000 }).status === 0;
}

/** What comes before a command that only root may run, where nobody need be asked; null where it may not be run. */
export function asRoot(): readonly string[] | null {
  if (process.getuid?.() === 0) return [];
  return answers("sudo", ["-n", "true"]) ? ["sudo", "-n"] : null;
}

let found: string | undefined;

/**
 * A Python that has openpyxl and Pillow: the system's own, even where another one comes first in PATH.
 * @throws Error in words where there is none
 */
export function python(): string {
  found ??= ["/usr/bin/python3", "python3", "python"].find((candidate) =>
    answers(candidate, ["-c", "import openpyxl, PIL.Image"]),
  );
  if (found === undefined)
    throw new Error("These tests need Python 3 with openpyxl and Pillow: run `npm run needs`.");
  return found;
}

/** What a program prints. @throws Error with what it says of its failure */
export function printedBy(program: string, args: readonly string[]): string {
  return execFileSync(program, args, { encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
}

/** What a Python script prints. */
export function pythonPrints(script: string, ...args: readonly string[]): string {
  return printedBy(python(), ["-c", script, ...args]);
}

/** LibreOffice where its installers put it outside PATH; on Windows the one that waits until it is done. */
const OFFICES = [
  "/Applications/LibreOffice.app/Contents/MacOS/soffice",
  "C:\\Program Files\\LibreOffice\\program\\soffice.com",
];

/** LibreOffice: a path, or the name to find in PATH. */
export const OFFICE = OFFICES.find((place) => existsSync(place)) ?? "soffice";
