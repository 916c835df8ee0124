import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { startBeside } from "#main/ports/start-beside.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-beside-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it("starts a program with its arguments and does not wait for its end", async () => {
  const file = join(folder, "written");
  const script = "require('fs').writeFileSync(process.argv[1], 'x'); setTimeout(() => {}, 2000)";
  await startBeside(process.execPath, ["-e", script, file]);
  await vi.waitFor(() => expect(existsSync(file)).toBe(true), { timeout: 20_000 });
});

it("says when the system does not start it", async () => {
  await expect(startBeside(join(folder, "nothing"), [])).rejects.toThrow(/ENOENT/);
});
