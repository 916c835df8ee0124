/*
 * `npm run bare`: the README's commands on a machine that has nothing but Debian, Node and npm, laid in a folder.
 *
 *   npm run bare                                    # npm ci && npm test, on this checkout
 *   npm run bare -- --as person                     # as an ordinary person with sudo and a closed home, not as root
 *   npm run bare -- 'npm ci && npm run needs && npm run unit -- tests/workbook'
 *   npm run bare -- --or-here                       # where no room can be laid: npm test on this machine as it is
 *
 * Exit status: that of the command; 69 where no room can be laid.
 */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { layRoom, NoRoom, type Room, remove } from "./bare-debian.ts";
import { runInRoom } from "./enter-room.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const UNAVAILABLE = 69;

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { as: { type: "string", default: "root" }, "or-here": { type: "boolean", default: false } },
});
const [given] = positionals;

/** Lays a room and tries whether it can be entered and reaches the registry. @throws NoRoom */
async function usableRoom(): Promise<Room> {
  const room = layRoom(ROOT, values.as);
  const { devDependencies } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
  const tries = [
    ["true", "the room cannot be entered: mounts or processes of its own are refused"],
    [`npm view node@${devDependencies.node} version`, "the room reaches no package registry"],
  ] as const;
  for (const [line, refusal] of tries) {
    if ((await runInRoom(room, line, true)) === 0) continue;
    remove(room.folder);
    throw new NoRoom(refusal);
  }
  return room;
}

async function runBare(): Promise<number> {
  const room = await usableRoom();
  const line = given ?? "npm ci && npm test";
  console.log(`bare: in ${room.folder}, ${room.project}, as ${room.person}: ${line}`);
  try {
    const status = await runInRoom(room, line);
    console.log(`bare: exit ${status}`);
    return status;
  } finally {
    remove(room.folder);
  }
}

function runHere(why: string): number {
  const line = given ?? "npm test";
  console.log(`bare: no room is laid: ${why}`);
  console.log(`bare: on this machine as it is: ${line}`);
  return spawnSync(line, { cwd: ROOT, stdio: ["ignore", "inherit", "inherit"], shell: true }).status ?? 1;
}

try {
  process.exitCode = await runBare();
} catch (error) {
  if (!(error instanceof NoRoom)) throw error;
  if (values["or-here"]) process.exitCode = runHere(error.message);
  else {
    console.error(`bare: no room can be laid: ${error.message}`);
    process.exitCode = UNAVAILABLE;
  }
}
