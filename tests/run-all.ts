import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import {
  NO_TESTS,
  playwrightAgain,
  playwrightTotals,
  type Totals,
  totalsLine,
  vitestTotals,
} from "./totals.ts";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const REPORTS = join(ROOT, ".cache", "reports");
/** The tests start the program some hundred times: compiled once, it starts in half the time (Node: module compile cache). */
const COMPILED = join(ROOT, ".cache", "compiled");
/** Another day than UTC for part of every day, and a decimal comma. */
const ELSEWHERE = { TZ: "Pacific/Chatham", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8" };
const HERE = { TZ: "UTC", LANG: "C.UTF-8", LC_ALL: "C.UTF-8" };

interface Outcome {
  readonly ok: boolean;
  readonly totals: Totals;
  readonly note?: string;
  /** Tests that passed only when repeated. */
  readonly again?: readonly string[];
}
interface Stage {
  readonly name: string;
  /** True where finding no test at all is a failure. */
  readonly tests: boolean;
  run(): Outcome;
}

/** Runs a tool of this project; its output goes to the terminal. */
function tool(command: string, args: readonly string[], environment: Record<string, string> = {}): boolean {
  const { status } = spawnSync(command, args, {
    cwd: ROOT,
    stdio: "inherit",
    env: { ...process.env, NODE_COMPILE_CACHE: COMPILED, ...environment },
    shell: process.platform === "win32",
  });
  return status === 0;
}

function plain(name: string, run: () => boolean): Stage {
  return { name, tests: false, run: () => ({ ok: run(), totals: NO_TESTS }) };
}

function vitest(name: string, projects: readonly string[], environment: Record<string, string>): Stage {
  const report = join(REPORTS, `${name.replaceAll(/\W+/g, "-")}.json`);
  const only = projects.flatMap((project) => ["--project", project]);
  const args = ["vitest", "run", "--config", "tests/vitest.config.ts", ...only];
  const reporters = ["--reporter=default", "--reporter=json", `--outputFile.json=${report}`];
  return {
    name,
    tests: true,
    run() {
      const ok = tool("npx", [...args, ...reporters], environment);
      return { ok, totals: vitestTotals(report) };
    },
  };
}

function playwright(project: string): Outcome {
  const report = join(REPORTS, `${project}.json`);
  const args = ["playwright", "test", "--config", "tests/playwright.config.ts", "--project", project];
  const ok = tool("npx", args, { ...HERE, LINEFALL_TEST_REPORT: report });
  return { ok, totals: playwrightTotals(report), again: playwrightAgain(report) };
}

const electron: Stage = {
  name: "electron",
  tests: false,
  run() {
    const packageFolder = join(ROOT, "node_modules", "electron");
    if (!existsSync(join(packageFolder, "path.txt"))) {
      return { ok: true, totals: NO_TESTS, note: "not run: the Electron binary is not installed" };
    }
    if (process.platform === "linux" && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) {
      return { ok: true, totals: NO_TESTS, note: "not run: no display" };
    }
    return playwright("electron");
  },
};

/** Cheap first: a slip of the pen is not found by a browser. */
const STAGES: readonly Stage[] = [
  plain("needs", () => tool("npm", ["run", "--silent", "needs"])),
  plain("check", () => tool("npm", ["run", "--silent", "check"])),
  plain("build", () => tool("npm", ["run", "--silent", "build"])),
  vitest("unit", ["core", "main", "renderer"], HERE),
  vitest("unit elsewhere", ["core", "renderer"], ELSEWHERE),
  vitest("faults", ["faults"], HERE),
  { name: "browser", tests: true, run: () => playwright("browser") },
  { name: "electron-shaped", tests: true, run: () => playwright("electron-shaped") },
  electron,
];

function runStage(stage: Stage): Outcome {
  console.log(`\n== ${stage.name}`);
  const outcome = stage.run();
  const counted = outcome.totals.passed + outcome.totals.failed;
  if (stage.tests && counted === 0) return { ...outcome, ok: false, note: "no test was run" };
  return outcome.totals.failed > 0 ? { ...outcome, ok: false } : outcome;
}

function table(lines: readonly (readonly string[])[]): string {
  const widths = [0, 1, 2].map((column) => Math.max(...lines.map((line) => (line[column] ?? "").length)));
  return lines
    .map((line) =>
      line
        .map((cell, at) => cell.padEnd(widths[at] ?? 0))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

function main(): number {
  rmSync(REPORTS, { recursive: true, force: true });
  mkdirSync(REPORTS, { recursive: true });
  const lines: string[][] = [];
  const again: string[] = [];
  let totals = NO_TESTS;
  let ok = true;
  for (const stage of STAGES) {
    if (!ok) {
      lines.push([stage.name, "not reached", "", ""]);
      continue;
    }
    const started = performance.now();
    const outcome = runStage(stage);
    ok = outcome.ok;
    again.push(...(outcome.again ?? []).map((name) => `${stage.name}: ${name}`));
    totals = {
      passed: totals.passed + outcome.totals.passed,
      failed: totals.failed + outcome.totals.failed,
      skipped: totals.skipped + outcome.totals.skipped,
    };
    const seconds = `${((performance.now() - started) / 1000).toFixed(1)} s`;
    const counts = outcome.totals === NO_TESTS ? "" : totalsLine(outcome.totals);
    lines.push([stage.name, outcome.ok ? "ok" : "FAILED", seconds, outcome.note ?? counts]);
  }
  console.log(`\n${table(lines)}\n`);
  if (again.length > 0) console.log(`passed only when repeated, a race to be mended:\n${again.join("\n")}\n`);
  // A failure outside the tests must not hide behind their totals.
  if (!ok && totals.failed === 0) totals = { ...totals, failed: 1 };
  console.log(totalsLine(totals));
  return ok ? 0 : 1;
}

process.exitCode = main();
