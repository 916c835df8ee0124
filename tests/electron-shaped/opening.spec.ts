import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "@playwright/test";
import Database from "better-sqlite3";
import type { WorkProgress } from "#core/contract/records/work.ts";
import { channelOf } from "#main/electron/channel.ts";
import { callFrom, openBenchWindow } from "../browser/bench-window.ts";
import { seenInBothThemes } from "../browser/seen-in-both-themes.ts";
import { layOlderBench } from "../support/older-bench.ts";
import { type ShapedProgram, startShapedProgram } from "./shaped-program.ts";

const MORE_LINES = 60_000;

/** A bench of version 0.1.0 that takes seconds to bring up to date; its trail is long by copies, and proves nothing. */
function layLongOlderBench(folder: string): void {
  layOlderBench(folder);
  const bench = new Database(join(folder, "bench.sqlite"));
  bench.exec(`WITH RECURSIVE more (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM more WHERE n < ${MORE_LINES})
    INSERT INTO audit_line SELECT newest + n, at, person_id, act, subject, subject_id, reason, detail, hash
    FROM more, (SELECT max(sequence) AS newest FROM audit_line) JOIN audit_line ON sequence = 1 + n % newest`);
  bench.close();
}

async function progressOf({ booted }: ShapedProgram): Promise<WorkProgress | null> {
  const asked = { sender: { frame: "main" }, channel: channelOf("bench.opening"), args: ["{}"] } as const;
  const reply = await booted.ask("invoke", { ...asked, args: [...asked.args] });
  return (JSON.parse(String(reply)) as { value: WorkProgress | null }).value;
}

let folder: string;
let program: ShapedProgram;
let held: number | null = null;

test.beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "linefall-older-"));
  layLongOlderBench(folder);
  program = await startShapedProgram({ folder });
});
test.afterEach(async () => {
  if (held !== null) process.kill(held, "SIGCONT");
  await program.stop();
  rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
});

test("an older bench says how far it has come while it is brought up to date, and then opens", async ({
  context,
}) => {
  test.skip(process.platform === "win32", "no process is held there by a signal");
  let progress: WorkProgress | null = null;
  // Held where it has come to a share, so that it can be looked at as long as one likes.
  while (progress === null || progress.parts === 0 || !progress.part.startsWith("bringing")) {
    progress = await progressOf(program);
  }
  held = (await program.booted.look()).utilities[0] ?? null;
  process.kill(held ?? -1, "SIGSTOP");
  const { page, faults } = await openBenchWindow(context, program.address);
  const told = page.getByRole("status").filter({ hasText: "is brought up to this one" });
  await expect(told).toContainText(/bringing it up to date: .+, \d+ %/);
  const bar = page.getByRole("progressbar", { name: "Bringing the bench up to this version" });
  await expect(bar).toBeVisible();
  await seenInBothThemes(page, "opening");
  process.kill(held ?? -1, "SIGCONT");
  held = null;
  await expect(told).toHaveCount(0, { timeout: 60_000 });
  expect(await callFrom(page, "bench.opening", {})).toBeNull();
  await expect(page.getByRole("main").getByRole("heading").first()).toBeVisible();
  expect(faults).toEqual([]);
});
