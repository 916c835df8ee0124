import { spawn } from "node:child_process";

/** Where the demonstration bench of a person lies that is opened from within the program: beside their own. */
export function demoFolderBeside(folder: string): string {
  return `${folder}-demo`;
}

/**
 * Starts a program that goes on by itself when this one ends.
 * @throws {Error} when the system does not start it
 */
export function startBeside(program: string, args: readonly string[]): Promise<void> {
  const child = spawn(program, args, { stdio: "ignore", detached: true });
  child.unref();
  return new Promise((resolve, reject) => {
    child.once("spawn", resolve);
    child.once("error", reject);
  });
}
