import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { FaultRecord } from "../support/fault-record.ts";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const FOLDER = join(ROOT, ".cache", "faults");
/** What one run of a file leaves: its report, and what it told of itself. */
const reportOf = (file: string, round: number): string => join(FOLDER, `${basename(file)}.${round}.json`);
const recordsOf = (file: string, round: number): string => join(FOLDER, `${basename(file)}.${round}.jsonl`);
const README = join(ROOT, "README.md");
const [BEGIN, END] = ["<!-- faults: made by `npm run faults -- --write` -->", "<!-- /faults -->"];
const MOST_MS = 15 * 60_000;
/** Some 100 kills become more than a thousand. Each round can be stopped and gone on with for itself. */
const LONG_ROUNDS = 11;

/** What each file of tests tries; the count of those that tell of themselves is theirs, else that of their cases. */
const CASES: readonly (readonly [file: string, what: string])[] = [
  ["tests/faults/kill-during-entry.test.ts", "killed while readings are entered"],
  ["tests/faults/kill-while-pressing.test.ts", "killed while a count is pressed"],
  ["tests/faults/kill-during-practice.test.ts", "killed while somebody practises"],
  ["tests/faults/kill-during-block.test.ts", "killed while a pasted block is taken in"],
  ["tests/faults/kill-during-re-evaluation.test.ts", "killed while results are re-evaluated"],
  ["tests/faults/kill-during-restore.test.ts", "killed while a backup is being restored"],
  ["tests/faults/kill-during-copying.test.ts", "killed while a backup is made and older ones become small"],
  ["tests/faults/kill-during-copying.test.ts", "killed while a condensed backup is rebuilt and restored"],
  ["tests/faults/kill-during-migration.test.ts", "killed while an older bench is brought up to date"],
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
  [
    "tests/main/store/bench-file/condensing.test.ts",
    "a part of a condensed backup damaged or taken away; copies of earlier programs; rotation",
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
  readonly testResults: readonly {
    readonly assertionResults: readonly Assertion[];
    /** Why the file as a whole failed, such as before its first case; empty otherwise. */
    readonly message: string;
  }[];
}

interface Line {
  readonly what: string;
  readonly times: string;
  readonly lost: string;
  readonly ok: boolean;
}

const parsed = <T>(path: string, otherwise: T): T =>
  existsSync(path) ? (JSON.parse(readFileSync(path, "utf8")) as T) : otherwise;

function recordsIn(path: string): FaultRecord[] {
  if (!existsSync(path)) return [];
  const lines = readFileSync(path, "utf8").split("\n");
  return lines.filter((line) => line !== "").map((line) => JSON.parse(line) as FaultRecord);
}

/** What the rounds of a file told of one kind of fault, as one; undefined where they told nothing. */
function toldOf(file: string, what: string, rounds: readonly number[]): FaultRecord | undefined {
  const told = rounds
    .flatMap((round) => recordsIn(recordsOf(file, round)))
    .filter((one) => one.what === what);
  const [first] = told;
  if (first === undefined) return undefined;
  const times = told.reduce((sum, one) => sum + one.times, 0);
  const lost = told.length === 1 ? first.lost : `nothing, in each of ${told.length} rounds`;
  return { what, times, lost };
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

/** How often a file is run: one that kills takes its chances anew each time, another finds the same again. */
const roundsOf = (file: string, long: boolean): number[] =>
  Array.from({ length: long && file.includes("/kill-") ? LONG_ROUNDS : 1 }, (_, at) => at + 1);

function assertionsOf(file: string, round: number): readonly Assertion[] | undefined {
  const { testResults } = parsed<Report>(reportOf(file, round), { testResults: [] });
  const [result] = testResults;
  if (!result?.message) return result?.assertionResults;
  // Cases that a failure before them left out are no cases that this machine cannot try.
  const why = result.message.split("\n", 1)[0];
  return [...result.assertionResults, { status: "failed", fullName: `before its cases: ${why}` }];
}

function tableLines(long: boolean): Line[] {
  return CASES.map(([file, what]) => {
    const rounds = roundsOf(file, long);
    const found = rounds.map((round) => assertionsOf(file, round));
    const missing = found.some((one) => one === undefined || one.length === 0);
    const failed = found.flat().filter((one) => one?.status === "failed");
    const shown = failed.length > 0 ? failed : found[0];
    const line = lineOf(what, shown as readonly Assertion[] | undefined, toldOf(file, what, rounds));
    if (!line.ok || !missing) return line;
    const done = found.filter((one) => one !== undefined && one.length > 0).length;
    return { ...line, lost: `${line.lost}; STOPPED after ${done} of ${rounds.length} rounds`, ok: false };
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
async function tryOne({ file, round }: Try, deadline: number): Promise<void> {
  rmSync(recordsOf(file, round), { force: true });
  const args = ["vitest", "run", "--config", "tests/vitest.config.ts", "--reporter=default"];
  const child = spawn(
    "npx",
    [...args, "--reporter=json", `--outputFile.json=${reportOf(file, round)}`, file],
    {
      cwd: ROOT,
      stdio: "inherit",
      shell: process.platform === "win32",
      detached: process.platform !== "win32",
      env: { ...process.env, LINEFALL_FAULT_RECORD: recordsOf(file, round) },
    },
  );
  running.add(child);
  const bound = setTimeout(() => end(child), Math.max(0, deadline - Date.now()));
  await new Promise((resolve) => child.once("exit", resolve));
  clearTimeout(bound);
  running.delete(child);
}

interface Try {
  readonly file: string;
  readonly round: number;
}

/** Runs them all, two at a time, for so long at most. @returns whether they came to their end */
async function tried(long: boolean, most: number, goOn: boolean): Promise<boolean> {
  if (!goOn) rmSync(FOLDER, { recursive: true, force: true });
  mkdirSync(FOLDER, { recursive: true });
  const deadline = Date.now() + most;
  const files = [...new Set(CASES.map(([file]) => file))];
  // The longest first, or one of them is left over at the end; every first round before any second.
  const waiting = [
    ...files.filter((file) => LONGEST.has(file)),
    ...files.filter((file) => !LONGEST.has(file)),
  ]
    .flatMap((file) => roundsOf(file, long).map((round): Try => ({ file, round })))
    .filter(({ file, round }) => !existsSync(reportOf(file, round)))
    .sort((one, other) => one.round - other.round);
  const work = async (): Promise<void> => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      if (Date.now() >= deadline) return;
      await tryOne(next, deadline);
    }
  };
  await Promise.all([work(), work()]);
  return Date.now() < deadline;
}

async function main(): Promise<void> {
  const long = process.argv.includes("--long");
  const finished = await tried(long, long ? MOST_MS * 16 : MOST_MS, process.argv.includes("--go-on"));
  const lines = tableLines(long);
  const kills = CASES.reduce(
    (sum, [file, what]) => sum + (toldOf(file, what, roundsOf(file, long))?.times ?? 0),
    0,
  );
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
