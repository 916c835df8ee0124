import { spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { chmodSync, chownSync, existsSync, statSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { assemble } from "#main/assemble.ts";
import { countedIds, fixedClock } from "../support/fixed-clock.ts";
import { type SecondProgram, secondProgram } from "../support/second-program.ts";
import { type TempFolder, tempFolder } from "../support/temp-bench.ts";
import { NOBODY, type Unprivileged, unprivileged } from "../support/unprivileged.ts";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const person = unprivileged();
if (typeof person === "string") console.log(`Benches that may not be written are left out: ${person}.`);

let folder: TempFolder;
const running: SecondProgram[] = [];
beforeEach(() => {
  folder = tempFolder();
});
afterEach(async () => {
  for (const program of running.splice(0)) await program.kill9();
  folder.remove();
});

const here = () =>
  assemble({
    paths: folder.paths,
    clock: fixedClock(),
    ids: countedIds(),
    host: "loopback",
    programVersion: "0",
  });

async function there(owner?: Unprivileged): Promise<SecondProgram> {
  const program = await secondProgram(folder.paths.dataFolder, owner);
  running.push(program);
  return program;
}

describe("a bench that is open in another process", () => {
  it("is refused there with the number of the process that has it", async () => {
    const program = await here();
    const second = await there();
    expect(second).toMatchObject({ opened: false, code: "bench.locked" });
    expect(second.message).toContain(`process number ${process.pid}`);
    await program.close();
    expect(await there()).toMatchObject({ opened: true });
  });

  it("is refused here, and free at once when that process is killed", async () => {
    const second = await there();
    expect(second.opened).toBe(true);
    await expect(here()).rejects.toMatchObject({
      code: "bench.locked",
      message: expect.stringContaining(`process number ${second.child.pid}`),
    });
    await second.kill9();
    expect(existsSync(`${folder.paths.databaseFile}.holder`)).toBe(true);
    const program = await here();
    await program.close();
  });

  it("goes to exactly one of several that start at the same instant", async () => {
    const programs = await Promise.all([there(), there(), there()]);
    expect(programs.filter((one) => one.opened)).toHaveLength(1);
    for (const one of programs) if (!one.opened) expect(one.code).toBe("bench.locked");
  });
});

/** Holds the shared lock that every reader of an SQLite file has, until its input ends. */
const READER = `
const Database = require("better-sqlite3");
const file = new Database(process.argv[1], { readonly: true });
file.exec("BEGIN");
file.prepare("SELECT count(*) FROM sqlite_schema").get();
console.log("reading");
process.stdin.resume();
process.stdin.once("end", () => file.close());
`;

/** Starts a reader of the lock file. @returns what it said: `reading`, or why it could not */
async function readLock(): Promise<{ said: string; end: () => Promise<void> }> {
  const args = ["-e", READER, `${folder.paths.databaseFile}.lock`];
  const child = spawn(process.execPath, args, { cwd: ROOT, stdio: ["pipe", "pipe", "pipe"] });
  const exited = once(child, "exit");
  let said = "";
  child.stderr.on("data", (chunk) => {
    said += String(chunk);
  });
  for await (const chunk of child.stdout) {
    said += String(chunk);
    if (said.includes("reading")) break;
  }
  if (!said.includes("reading")) await exited;
  return {
    said,
    async end() {
      child.stdin.end();
      await exited;
    },
  };
}

describe("a mere reader of the lock file", () => {
  it("does not keep the program out of its own bench", async () => {
    await (await here()).close();
    const reader = await readLock();
    expect(reader.said).toBe("reading\n");
    const program = await here();
    // And the lock holds: a second program is refused although the reader is there.
    expect(await there()).toMatchObject({ opened: false, code: "bench.locked" });
    await program.close();
    await reader.end();
  });

  it.skipIf(process.platform === "win32")("cannot be anybody else on this computer", async () => {
    const lock = `${folder.paths.databaseFile}.lock`;
    const [program, ...args] = NOBODY.command("cat", [lock]);
    const readAsNobody = (): string =>
      spawnSync(program, args, { encoding: "utf8", env: { ...process.env, LC_ALL: "C" } }).stderr;
    await (await here()).close();
    expect(statSync(lock).mode & 0o777).toBe(0o600);
    // Only root can become somebody else and try. With a program that lies where everybody may enter.
    if (process.getuid?.() !== 0) return;
    expect(readAsNobody()).toMatch(/Permission denied/);
    // Not even where the folder is open to them.
    chmodSync(folder.paths.dataFolder, 0o755);
    expect(readAsNobody()).toMatch(/Permission denied/);
    // It is the mode that keeps them out, not the way there.
    chmodSync(lock, 0o644);
    expect(readAsNobody()).toBe("");
  });
});

describe.skipIf(typeof person === "string")("a bench that may not be written", () => {
  const owner = person as Unprivileged;
  beforeEach(() => {
    if (owner.uid !== undefined) chownSync(folder.paths.dataFolder, owner.uid, owner.uid);
  });

  it("is refused in words when its folder is read-only", async () => {
    const first = await there(owner);
    expect(first).toMatchObject({ opened: true });
    await first.end();
    chmodSync(folder.paths.dataFolder, 0o555);
    expect(await there(owner)).toMatchObject({ opened: false, code: "bench.read-only" });
    chmodSync(folder.paths.dataFolder, 0o755);
  });

  it("is refused in words when its file is read-only", async () => {
    const first = await there(owner);
    await first.end();
    chmodSync(folder.paths.databaseFile, 0o444);
    expect(await there(owner)).toMatchObject({ opened: false, code: "bench.read-only" });
    chmodSync(folder.paths.databaseFile, 0o644);
    expect(await there(owner)).toMatchObject({ opened: true });
  });
});
