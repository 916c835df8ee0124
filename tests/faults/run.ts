import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { countedNoun } from "#core/quantity/counted-noun.ts";
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

interface FaultCase {
  readonly files: readonly string[];
  readonly what: string;
}

const tries = (what: string, ...files: readonly string[]): FaultCase => ({ files, what });

/** What files of tests try; the count of those that tell of themselves is theirs, else that of their cases. */
const CASES: readonly FaultCase[] = [
  tries("killed while readings are entered", "tests/faults/kill-during-entry.test.ts"),
  tries("killed while a count is pressed", "tests/faults/kill-while-pressing.test.ts"),
  tries("killed while somebody practises", "tests/faults/kill-during-practice.test.ts"),
  tries("killed while a pasted block is taken in", "tests/faults/kill-during-block.test.ts"),
  tries("killed while results are re-evaluated", "tests/faults/kill-during-re-evaluation.test.ts"),
  tries("killed while a backup is being restored", "tests/faults/kill-during-restore.test.ts"),
  tries(
    "killed while a backup is made and older ones become small",
    "tests/faults/kill-during-copying.test.ts",
  ),
  tries(
    "killed while a condensed backup is rebuilt and restored",
    "tests/faults/kill-during-copying.test.ts",
  ),
  tries("killed while an older bench is brought up to date", "tests/faults/kill-during-migration.test.ts"),
  tries("killed while an export or a hand-over is written", "tests/faults/kill-during-export.test.ts"),
  tries("the process behind the window dies", "tests/main/electron/service-client.test.ts"),
  tries("an act sent twice, also after a new start", "tests/main/services/repeated-requests.test.ts"),
  tries("the disk is full", "tests/faults/full-disk.test.ts"),
  tries("opened twice; lock held by a mere reader; not writable", "tests/faults/second-instance.test.ts"),
  tries(
    "no bench at all, another program’s, a newer one’s, cut off or overwritten: told apart and left alone",
    "tests/main/store/bench-file/open.test.ts",
  ),
  tries(
    "a restore cut off at every step; today’s daily restored",
    "tests/main/store/bench-file/restoring.test.ts",
  ),
  tries(
    "a backup restored while calls come, or refused; a bench handed over",
    "tests/main/traceability/bench-files.test.ts",
  ),
  tries(
    "an export or a hand-over onto a file of the bench, by whatever name",
    "tests/main/services/write-context/outside-bench.test.ts",
  ),
  tries(
    "a -wal of another bench or of an earlier state, or none",
    "tests/main/store/bench-file/foreign-wal.test.ts",
  ),
  tries(
    "a file with a second name by hard links, worked on under both",
    "tests/main/store/bench-file/second-names.test.ts",
  ),
  tries(
    "folder or file moved, removed or replaced while running; wrong clock; left-over files; open to others",
    "tests/main/store/bench-file/folder.test.ts",
  ),
  tries(
    "a part of a condensed backup damaged or taken away; copies of earlier programs; rotation",
    "tests/main/store/bench-file/condensing.test.ts",
    "tests/main/loopback/copy-work.test.ts",
  ),
  tries(
    "the file is damaged, cut short or missing",
    "tests/main/store/backup-and-recovery.test.ts",
    "tests/main/services/file-check.test.ts",
  ),
  tries("a change of the file format that fails or is newer", "tests/main/store/bench-file/migrate.test.ts"),
  tries(
    "an older bench brought up to date: every record, result and hash as before",
    "tests/main/older-benches/older-benches.test.ts",
    "tests/main/store/measuring-migration.test.ts",
    "tests/main/store/decimal-counts-migration.test.ts",
    "tests/main/store/cover-and-place-migration.test.ts",
    "tests/main/store/trail-packing.test.ts",
    "tests/main/store/bench-file/space.test.ts",
  ),
  tries("an attached file is damaged or missing", "tests/main/traceability/damaged-files.test.ts"),
  tries(
    "calls by another page, port or program; the window’s token replayed",
    "tests/main/loopback/entering.test.ts",
    "tests/main/loopback/hostile-requests.test.ts",
  ),
  tries(
    "signing as somebody else; guessing on after a restore",
    "tests/main/traceability/pin-resets.test.ts",
    "tests/main/traceability/sign-offs.test.ts",
  ),
  tries(
    "history written anew with every hash; a signature of its head forged",
    "tests/main/exchange/trail-heads.test.ts",
    "tests/main/exchange/signed-heads.test.ts",
  ),
  tries(
    "one digit or line changed by another program",
    "tests/main/launch/verify-command.test.ts",
    "tests/main/services/verify.test.ts",
    "tests/main/services/verifying.test.ts",
  ),
  tries(
    "any column, row or line of any table changed, derived tables too",
    "tests/main/verify/every-fact.test.ts",
  ),
  tries(
    "called changed although nobody changed it: half characters and identifiers of earlier programs, undone rows",
    "tests/main/verify/earlier-slips.test.ts",
    "tests/main/verify/undone-rows.test.ts",
  ),
  tries("half a character in any text of any call", "tests/main/dispatch/half-characters.test.ts"),
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

/** What the rounds of its files told of one kind of fault, as one; undefined where they told nothing. */
function toldOf({ files, what }: FaultCase, long: boolean): FaultRecord | undefined {
  const told = files
    .flatMap((file) => roundsOf(file, long).flatMap((round) => recordsIn(recordsOf(file, round))))
    .filter((one) => one.what === what);
  const [first] = told;
  if (first === undefined) return undefined;
  const times = told.reduce((sum, one) => sum + one.times, 0);
  const lost = told.length === 1 ? first.lost : `nothing, in each of ${told.length} rounds`;
  return { what, times, lost };
}

function lineOf(what: string, found: readonly Assertion[], told: FaultRecord | undefined): Line {
  if (found.length === 0) return { what, times: "0", lost: "NOT TRIED within the time", ok: false };
  const failed = found.filter((one) => one.status === "failed");
  const passed = found.filter((one) => one.status === "passed").length;
  if (failed.length > 0) {
    return { what, times: "–", lost: `FAILED: ${failed.map((one) => one.fullName).join("; ")}`, ok: false };
  }
  const left = found.length - passed;
  const skipped = left === 0 ? "" : ` (${left} of ${found.length} could not be tried on this machine)`;
  if (told) return { what, times: `${told.times} kills`, lost: told.lost + skipped, ok: true };
  if (passed === 0) return { what, times: "0", lost: "could not be tried on this machine", ok: true };
  return { what, times: countedNoun(passed, "case"), lost: `nothing${skipped}`, ok: true };
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
  return CASES.map((one) => {
    const found = one.files.map((file) => roundsOf(file, long).map((round) => assertionsOf(file, round)));
    const runs = found.flat();
    const wasRun = (run: readonly Assertion[] | undefined): boolean => run !== undefined && run.length > 0;
    const failed = runs.flatMap((run) => run ?? []).filter(({ status }) => status === "failed");
    // Another round tries the same cases again.
    const first = found.flatMap(([round]) => round ?? []);
    const line = lineOf(one.what, failed.length > 0 ? failed : first, toldOf(one, long));
    const done = runs.filter(wasRun).length;
    if (!line.ok || done === runs.length) return line;
    return { ...line, lost: `${line.lost}; STOPPED after ${done} of ${runs.length} runs`, ok: false };
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
  const files = [...new Set(CASES.flatMap(({ files }) => files))];
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

/** A file of faults that no row tells of would be tried by nobody. */
function withoutRow(): string[] {
  const told = new Set(CASES.flatMap(({ files }) => files));
  return readdirSync(join(ROOT, "tests/faults"))
    .filter((name) => name.endsWith(".test.ts") && !told.has(`tests/faults/${name}`))
    .sort();
}

async function main(): Promise<void> {
  const left = withoutRow();
  if (left.length > 0) throw new Error(`no row of the table tells of ${left.join(", ")}`);
  const long = process.argv.includes("--long");
  const finished = await tried(long, long ? MOST_MS * 16 : MOST_MS, process.argv.includes("--go-on"));
  const lines = tableLines(long);
  const kills = CASES.reduce((sum, one) => sum + (toldOf(one, long)?.times ?? 0), 0);
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
