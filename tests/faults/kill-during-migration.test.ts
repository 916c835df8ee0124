import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, it } from "vitest";
import { assemble } from "#main/assemble.ts";
import { systemClock } from "#main/ports/clock.ts";
import { benchPaths } from "#main/ports/data-folder.ts";
import { randomIds } from "#main/ports/ids.ts";
import { ALL_MIGRATIONS } from "#main/store/migrations/all-migrations.ts";
import { lostNothing } from "../support/fault-record.ts";
import { layOlderBench } from "../support/older-bench.ts";

const CHILD = fileURLToPath(new URL("../support/opening-child.ts", import.meta.url));
const HOOKS = fileURLToPath(new URL("../support/kill-at-write.ts", import.meta.url));
const KILLS = 16;
const NEWEST = ALL_MIGRATIONS.at(-1)?.version ?? 0;

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-older-"));
  layOlderBench(folder);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The child on a copy of its own. @returns the acts it took; null when it was killed */
function run(killAt: number): { own: string; acts: number | null } {
  const own = mkdtempSync(join(tmpdir(), "linefall-kill-"));
  cpSync(folder, own, { recursive: true });
  const env = { ...process.env, KILL_AT: String(killAt) };
  const { stdout, stderr, signal, status } = spawnSync(process.execPath, ["--import", HOOKS, CHILD, own], {
    env,
    encoding: "utf8",
  });
  if (signal === null && status !== 0) throw new Error(stderr);
  const acts = /acts: (\d+)/.exec(stdout)?.[1];
  return { own, acts: acts === undefined ? null : Number(acts) };
}

/** As the file's header has it (SQLite file format, section 1.3, byte 60): opening it would fold its -wal back. */
const versionOf = (file: string): number => readFileSync(file).readUInt32BE(60);

it(
  "killed in the acts of bringing an older bench up to date, it is the older one or the new one, whole",
  async () => {
    const whole = run(0);
    rmSync(whole.own, { recursive: true });
    const acts = whole.acts ?? 0;
    expect(acts).toBeGreaterThan(60);
    let older = 0;
    for (let kill = 0; kill < KILLS; kill += 1) {
      const at = Math.min(acts, 1 + Math.floor(((kill + Math.random()) * acts) / KILLS));
      const { own, acts: unkilled } = run(at);
      expect(unkilled).toBeNull();
      const paths = benchPaths(own);
      const names = readdirSync(own);
      // Between the two renames of the swap there is no file of that name, and the next start finishes it.
      if (names.includes("bench.sqlite") && versionOf(paths.databaseFile) < NEWEST) older += 1;
      const program = await assemble({
        paths,
        clock: systemClock,
        ids: randomIds,
        host: "loopback",
        programVersion: "0.0.0-test",
      });
      expect(program.notices.join(), `act ${at} of ${acts}`).not.toContain("gone");
      expect(await program.dispatch("trail.verify", {})).toMatchObject({
        ok: true,
        value: { differences: [] },
      });
      const lying = readdirSync(own).filter((name) =>
        /partial|restoring|before-migration|\.swap$/.test(name),
      );
      expect(lying).toEqual([]);
      const copies = readdirSync(paths.backupFolder).filter((name) => name.includes("before-migration"));
      expect(copies.length).toBeGreaterThan(0);
      await program.close();
      expect(versionOf(paths.databaseFile)).toBe(NEWEST);
      rmSync(own, { recursive: true });
    }
    lostNothing(
      "killed while an older bench is brought up to date",
      KILLS,
      `${older} were the older one still, ${KILLS - older} the new one`,
    );
  },
  120_000 + KILLS * 20_000,
);
