import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, it } from "vitest";
import { assemble } from "#main/assemble.ts";
import { systemClock } from "#main/ports/clock.ts";
import { benchPaths } from "#main/ports/data-folder.ts";
import { randomIds } from "#main/ports/ids.ts";
import type { Program } from "#main/program.ts";
import { stemOf } from "#main/store/bench-file/backup-file-name.ts";
import { rebuildCopy } from "#main/store/bench-file/copy-chain.ts";
import { buildScene, enterLength, type Scene } from "../support/bench-scenes.ts";
import { lostNothing } from "../support/fault-record.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";

const CHILD = fileURLToPath(new URL("../support/copying-child.ts", import.meta.url));
const HOOKS = fileURLToPath(new URL("../support/kill-at-write.ts", import.meta.url));
const KILLS = 12;
const PATIENCE_MS = 120_000 + KILLS * 30_000;

let bench: TempBench;
let scene: Scene;
/** What each copy held when it was a whole file. */
const held = new Map<string, string>();
let folder: string;

const sha256 = (path: string): string => createHash("sha256").update(readFileSync(path)).digest("hex");

/** Six copies, of which five are condensed, and rows in the bench that no copy has. */
beforeAll(async () => {
  bench = await tempBench({ clock: systemClock, ids: randomIds } as never);
  scene = await buildScene(bench);
  for (let copy = 1; copy <= 6; copy += 1) {
    await enterLength(bench, scene, `row-${copy}`, "40", "60");
    const { fileName } = await bench.call("backups.make", { requestId: bench.request() });
    held.set(stemOf(fileName), sha256(join(bench.paths.backupFolder, fileName)));
  }
  await enterLength(bench, scene, "row-last", "40", "60");
  await bench.program.close();
  // The day's copy that closing made is no part of this.
  folder = bench.paths.dataFolder;
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Run {
  readonly folder: string;
  /** Acts on files; null when it was killed. */
  readonly acts: number | null;
}

/** The child on a folder of its own, as the bench was left. */
function run(killAt: number, fileName: string): Run {
  const own = mkdtempSync(join(tmpdir(), "linefall-kill-"));
  cpSync(folder, own, { recursive: true });
  const env = { ...process.env, KILL_AT: String(killAt) };
  const { stdout, stderr, signal, status } = spawnSync(
    process.execPath,
    ["--import", HOOKS, CHILD, own, fileName],
    {
      env,
      encoding: "utf8",
    },
  );
  if (signal === null && status !== 0) throw new Error(stderr);
  const acts = /acts: (\d+)/.exec(stdout)?.[1];
  return { folder: own, acts: acts === undefined ? null : Number(acts) };
}

const open = (own: string): Promise<Program> =>
  assemble({
    paths: benchPaths(own),
    clock: systemClock,
    ids: randomIds,
    host: "loopback",
    programVersion: "0.0.0-test",
  });

async function call(program: Program, name: string, input: unknown): Promise<unknown> {
  const reply = await program.dispatch(name, input);
  if (!reply.ok) throw new Error(`${name}: ${JSON.stringify(reply.error)}`);
  return reply.value;
}

/** Every copy there was is there, and holds byte for byte what it held; nothing half made lies beside it. */
function expectAllCopies(own: string): void {
  const { backupFolder } = benchPaths(own);
  const names = readdirSync(backupFolder);
  expect(names.filter((name) => !/\.(sqlite|condensed)$/.test(name))).toEqual([]);
  for (const [stem, content] of held) {
    const name = names.find((one) => one.startsWith(stem)) ?? `none of ${stem}`;
    const rebuilt = join(own, "rebuilt");
    expect(rebuildCopy(backupFolder, name, rebuilt)).toEqual([]);
    expect(sha256(rebuilt)).toBe(content);
    rmSync(rebuilt);
  }
}

async function rowsOf(program: Program): Promise<number> {
  const page = await call(program, "rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 });
  return (page as { total: number }).total;
}

/** Kills in acts spread over all there are; others each time. */
async function killAll(fileName: string, look: (program: Program) => Promise<void>): Promise<number> {
  const whole = run(0, fileName);
  rmSync(whole.folder, { recursive: true });
  const acts = whole.acts ?? 0;
  expect(acts).toBeGreaterThan(30);
  const kills = Math.min(KILLS, acts);
  for (let kill = 0; kill < kills; kill += 1) {
    const at = 1 + Math.floor(((kill + Math.random()) * acts) / kills);
    const { folder: own, acts: unkilled } = run(Math.min(at, acts), fileName);
    expect(unkilled).toBeNull();
    const program = await open(own);
    expectAllCopies(own);
    await look(program);
    expect(await call(program, "trail.verify", {})).toMatchObject({ differences: [] });
    // The next backup goes on where the kill came.
    await call(program, "backups.make", { requestId: randomIds.next() });
    const names = readdirSync(benchPaths(own).backupFolder);
    expect(names.filter((name) => name.endsWith(".sqlite"))).toHaveLength(1);
    expectAllCopies(own);
    await program.close();
    rmSync(own, { recursive: true });
  }
  return kills;
}

it(
  "killed in the acts of making a backup and making the older ones small, every copy can be rebuilt",
  async () => {
    const kills = await killAll("", async (program) => expect(await rowsOf(program)).toBe(7));
    lostNothing("killed while a backup is made and older ones become small", kills, "every copy as it was");
  },
  PATIENCE_MS,
);

it(
  "killed in the acts of restoring a condensed backup, the bench is as it was or as that backup was",
  async () => {
    const names = readdirSync(join(folder, "backups")).filter((name) => name.endsWith(".condensed"));
    let asBackup = 0;
    const kills = await killAll(names.sort()[1] ?? "", async (program) => {
      const rows = await rowsOf(program);
      expect([2, 7]).toContain(rows);
      if (rows === 2) asBackup += 1;
    });
    lostNothing(
      "killed while a condensed backup is rebuilt and restored",
      kills,
      `${asBackup} became the backup, ${kills - asBackup} stayed as they were`,
    );
  },
  PATIENCE_MS,
);
