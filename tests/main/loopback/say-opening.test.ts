import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { sayOpening } from "#main/loopback/say-opening.ts";
import { startLoopbackProgram } from "../../support/loopback-program.ts";
import { layOlderBench } from "../../support/older-bench.ts";

it("each part is told when it begins, and its share every two seconds", () => {
  const lines: string[] = [];
  let now = 10_000;
  const say = sayOpening(
    (line) => lines.push(line.replace(/^.*: (?=part)/, "")),
    () => now,
  );
  for (const [part, done, after] of [
    ["part 1", 0, 0],
    ["part 1", 10, 100],
    ["part 1", 50, 2000],
    ["part 1", 60, 100],
    ["part 2", 0, 10],
  ] as const) {
    now += after;
    say({ part, done, parts: 100 });
  }
  expect(lines).toEqual(["part 1", "part 1 (50 %)", "part 2"]);
});

it("the start on an older bench tells at the terminal what it does, before its address", {
  timeout: 120_000,
}, async () => {
  const folder = mkdtempSync(join(tmpdir(), "linefall-test-"));
  layOlderBench(folder);
  const program = await startLoopbackProgram({ folder });
  const output = program.output();
  const at = output.indexOf("is brought up to this one: the backup: copying");
  expect(at).toBeGreaterThanOrEqual(0);
  expect(output.indexOf("bringing it up to date: rows by number")).toBeGreaterThan(at);
  expect(output.indexOf("/enter#")).toBeGreaterThan(at);
  await program.stop();
});
