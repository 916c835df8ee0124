import { spawnSync } from "node:child_process";
import { chownSync, mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Somebody whom a folder's mode can keep out: root is kept out of nothing. */
export interface Unprivileged {
  /** Owner of what they may write; undefined for the user of this process. */
  readonly uid?: number;
  /** The command line that starts a program as them. */
  command(program: string, args: readonly string[]): readonly [string, ...string[]];
}

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
/** What a child needs to read of the project; folder, then what is read: told as arguments. */
const MAY = `
const { accessSync, chmodSync, constants, writeFileSync } = require("node:fs");
const [folder, ...read] = process.argv.slice(1);
for (const path of read) accessSync(path, constants.R_OK);
writeFileSync(folder + "/mine", "");
chmodSync(folder, 0o555);
try { writeFileSync(folder + "/kept-out", ""); } catch { process.exit(0); }
process.exit(1);
`;

/** True where they can read the project, write what is theirs, and are kept out by a folder's mode. */
function serves(person: Unprivileged): boolean {
  const folder = mkdtempSync(join(tmpdir(), "linefall-person-"));
  try {
    if (person.uid !== undefined) chownSync(folder, person.uid, person.uid);
    const read = ["src-main/assemble.ts", "node_modules/better-sqlite3/package.json"];
    const args = ["-e", MAY, folder, ...read.map((path) => join(ROOT, path))];
    const [program, ...rest] = person.command(process.execPath, args);
    return spawnSync(program, rest, { stdio: "ignore", timeout: 60_000 }).status === 0;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function underNumber(uid: number): Unprivileged {
  const options = [`--reuid=${uid}`, `--regid=${uid}`, "--clear-groups"];
  return { uid, command: (program, args) => ["setpriv", ...options, program, ...args] };
}

/** The user “nobody” of most systems, as root can become them. They may be kept out of the project's own folder. */
export const NOBODY = underNumber(65_534);

/** Root by name, without its power over files (capabilities(7)): it enters a folder of root that is closed to others. */
const POWERLESS: Unprivileged = {
  uid: 0,
  command: (program, args) => ["setpriv", "--bounding-set=-all", "--inh-caps=-all", program, ...args],
};

/**
 * Whom the fault tests start children as. A person tests as themselves. For root: nobody; where the project lies in a
 * folder that nobody cannot enter, the project's owner, or root without its power.
 * @returns the first who serves, or a sentence that says why there is none
 */
export function unprivileged(): Unprivileged | string {
  if (process.platform === "win32") return "modes of folders keep nobody out on Windows";
  if (process.getuid?.() !== 0) return { command: (program, args) => [program, ...args] };
  const people = [NOBODY, underNumber(statSync(ROOT).uid), POWERLESS];
  return (
    people.find((person) => serves(person)) ??
    `root is kept out of nothing, and no other user can be had by setpriv who can enter ${ROOT} and the folder for temporary files`
  );
}
