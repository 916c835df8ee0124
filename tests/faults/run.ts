import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { FaultRecord } from "../support/fault-record.ts";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const FOLDER = join(ROOT, ".cache", "faults");
const RECORDS = join(FOLDER, "records.jsonl");
const reportOf = (file: string): string => join(FOLDER, `${basename(file)}.json`);
const README = join(ROOT, "README.md");
const [BEGIN, END] = ["<!-- faults: made by `npm run faults -- --write` -->", "<!-- /faults -->"];
const MOST_MS = 15 * 60_000;
/** Some 80 kills become more than a thousand. */
const LONG_SCALE = 14;

/** What each file of tests tries; the count of those that tell of themselves is theirs, else that of their cases. */
const CASES: readonly (readonly [file: string, what: string])[] = [
  ["tests/faults/kill-during-entry.test.ts", "killed while readings are entered"],
  ["tests/faults/kill-while-pressing.test.ts", "killed while a count is pressed"],
  ["tests/faults/kill-during-block.test.ts", "killed while a pasted block is taken in"],
  ["tests/faults/kill-during-re-evaluation.test.ts", "killed while results are re-evaluated"],
  ["tests/faults/kill-during-restore.test.ts", "killed while a backup is being restored"],
  ["tests/faults/kill-during-export.test.ts", "killed while an export or a hand-over is written"],
  ["tests/faults/full-disk.test.ts", "the disk is full"],
  ["tests/faults/second-instance.test.ts", "opened twice; lock held by a mere reader; not writable"],
  [
    "tests/main/store/bench-file/restoring.test.ts",
    "a restore cut off at every step; today’s daily restored",
  ],
  [
    "tests/main/store/bench-file/foreign-wal.test.ts",
    "a -wal of another bench or of an earlier state, or none",
  ],
  [
    "tests/main/store/bench-file/folder.test.ts",
    "folder or file moved, removed or replaced while running; wrong clock; left-over files; open to others",
  ],
  ["tests/main/store/backup-and-recovery.test.ts", "the file is damaged, cut short or missing"],
  ["tests/main/store/bench-file/migrate.test.ts", "a change of the file format that fails or is newer"],
  ["tests/main/traceability/damaged-files.test.ts", "an attached file is damaged or missing"],
  ["tests/main/traceability/pin-resets.test.ts", "signing as somebody else; guessing on after a restore"],
  ["tests/main/exchange/trail-heads.test.ts", "history written anew with every hash"],
  ["tests/main/launch/verify-command.test.ts", "one digit or line changed by another program"],
  [
    "tests/main/verify/every-fact.test.ts",
    "any column, row or line of any table changed, derived tables too",
  ],
];

const LONGEST: ReadonlySet<string> = new Set([
  "tests/main/verify/every-fact.test.ts",
  "tests/faults/kill-during-entry.test.ts",
]);

interface Assertion {
  readonly status: string;
  readonly fullName: string;
}
interface Report {
  readonly testResults: readonly { readonly assertionResults: readonly Assertion[] }[];
}

interface Line {
  readonly what: string;
  readonly times: string;
  readonly lost: string;
  readonly ok: boolean;
}

const parsed = <T>(path: string, otherwise: T): T =>
  existsSync(path) ? (JSON.parse(readFileSync(path, "utf8")) as T) : otherwise;

function records(): FaultRecord[] {
  if (!existsSync(RECORDS)) return [];
  const lines = readFileSync(RECORDS, "utf8").split("\n");
  return lines.filter((line) => line !== "").map((line) => JSON.parse(line) as FaultRecord);
}

function lineOf(what: string, found: readonly Assertion[] | undefined, told: FaultRecord | undefined): Line {
  if (!found || found.length === 0) return { what, times: "0", lost: "NOT TRIED within the time", ok: false };
  const failed = found.filter((one) => one.status === "failed");
  const passed = found.filter((one) => one.status === "passed").length;
  if (failed.length > 0) {
    return { what, times: "–", lost: `FAILED: ${failed.map((one) => one.fullName).join("; ")}`, ok: false };
  }
  const left = found.length - passed;
  const skipped = left === 0 ? "" : ` (${left} of ${found.length} could not be tried on this machine)`;
  if (told) return { what, times: `${told.times} kills`, lost: told.lost + skipped, ok: true };
  if (passed === 0) return { what, times: "0", lost: "could not be tried on this machine", ok: true };
  return { what, times: `${passed} cases`, lost: `nothing${skipped}`, ok: true };
}

function tableLines(): Line[] {
  const told = new Map(records().map((one) => [one.what, one]));
  return CASES.map(([file, what]) => {
    const { testResults } = parsed<Report>(reportOf(file), { testResults: [] });
    return lineOf(what, testResults[0]?.assertionResults, told.get(what));
  });
}

function markdown(lines: readonly Line[]): string {
  const rows = lines.map(({ what, times, lost }) => `| ${what} | ${times} | ${lost} |`);
  return ["| what was tried | how often | lost |", "|---|---:|---|", ...rows].join("\n");
}

const running = new Set<ChildProcess>();

/** Ends a run with the programs it has started: they are in one group, where the system has groups. */
function end(child: ChildProcess): void {
  if (child.pid === undefined || child.exitCode !== null) return;
  if (process.platform === "win32") child.kill();
  else process.kill(-child.pid, "SIGKILL");
}

for (const signal of ["SIGINT", "SIGTERM"] as const) {
  process.once(signal, () => {
    for (const child of running) end(child);
    process.exit(1);
  });
}

/** Runs the tests of one file until the deadline. */
async function tryOne(file: string, scale: number, deadline: number): Promise<void> {
  const args = ["vitest", "run", "--config", "tests/vitest.config.ts", "--reporter=default"];
  const child = spawn("npx", [...args, "--reporter=json", `--outputFile.json=${reportOf(file)}`, file], {
    cwd: ROOT,
    stdio: "inherit",
    shell: process.platform === "win32",
    detached: process.platform !== "win32",
    env: { ...process.env, LINEFALL_FAULT_RECORD: RECORDS, LINEFALL_FAULT_SCALE: String(scale) },
  });
  running.add(child);
  const bound = setTimeout(() => end(child), Math.max(0, deadline - Date.now()));
  await new Promise((resolve) => child.once("exit", resolve));
  clearTimeout(bound);
  running.delete(child);
}

/** Runs them all, two at a time, for so long at most. @returns whether they came to their end */
async function tried(scale: number, most: number, goOn: boolean): Promise<boolean> {
  if (!goOn) rmSync(FOLDER, { recursive: true, force: true });
  mkdirSync(FOLDER, { recursive: true });
  const deadline = Date.now() + most;
  // The longest first, or one of them is left over at the end.
  const files = CASES.map(([file]) => file).filter((file) => !existsSync(reportOf(file)));
  const waiting = [
    ...files.filter((file) => LONGEST.has(file)),
    ...files.filter((file) => !LONGEST.has(file)),
  ];
  const work = async (): Promise<void> => {
    for (let file = waiting.shift(); file !== undefined; file = waiting.shift()) {
      if (Date.now() >= deadline) return;
      await tryOne(file, scale, deadline);
    }
  };
  await Promise.all([work(), work()]);
  return Date.now() < deadline;
}

async function main(): Promise<void> {
  const long = process.argv.includes("--long");
  const finished = await tried(
    long ? LONG_SCALE : 1,
    long ? MOST_MS * 16 : MOST_MS,
    process.argv.includes("--go-on"),
  );
  const lines = tableLines();
  const kills = records().reduce((sum, one) => sum + one.times, 0);
  const table = markdown(lines);
  console.log(`\n${table}\n\n${kills} kills in all.`);
  if (!finished) console.log("Stopped: the time was over. “-- --go-on” tries what is left.");
  const ok = finished && lines.every((one) => one.ok);
  if (ok && process.argv.includes("--write")) {
    const text = readFileSync(README, "utf8");
    const [from, to] = [text.indexOf(BEGIN), text.indexOf(END)];
    if (from < 0 || to < from) throw new Error("README.md has no place for the table");
    writeFileSync(README, `${text.slice(0, from)}${BEGIN}\n\n${table}\n\n${text.slice(to)}`);
  }
  if (!ok) process.exitCode = 1;
}

await main();
