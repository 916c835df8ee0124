import { resolve } from "node:path";
import type { VerifyReport } from "#core/contract/records/trail.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { type KnownHead, type Noted, notedHeads } from "../exchange/noted-heads.ts";
import { UNFOLLOWED } from "../long-work/following.ts";
import { compareSignatures, signaturesInWords } from "../services/records/head-signatures.ts";
import { compareHeads, headsInWords } from "../services/verification/known-heads.ts";
import { verifyBench } from "../services/verification/verify-bench.ts";
import type { FollowedTo } from "../services/verification/verify-trail.ts";
import { listBackups } from "../store/bench-file/backup-list.ts";
import { BenchUnopenable } from "../store/bench-file/bench-unopenable.ts";
import { openReadOnly } from "../store/bench-file/read-only.ts";
import { wholeOf } from "../store/bench-file/whole-of-copy.ts";
import type { ReadableDb } from "../store/connection.ts";
import { hashAtLine, headOfTrail } from "../store/repositories/audit-trail.ts";

const USAGE = `Usage: npm run verify -- FILE [--from LINE:HASH] [--head LINE:HASH]… [--heads FOLDER]…
FILE is the bench.sqlite of a bench folder, or a backup (a .condensed one where it lies, among the others).
--from   a line of the trail that an earlier run followed it to, and its hash: lines up to it are not hashed again
--head   a line of the trail and its hash (or the first 8 digits or more), as noted on paper or in an export
--heads  a folder of backups, whose names bear the line and hash they end with, or of exports (workbooks, CSV, JSON,
         SVG) that name them; or one such file, or a copy of trail-heads.txt`;
const HEAD = /^(\d+):([0-9a-f]{8,64})$/;

interface Parameters {
  readonly file: string;
  /** The line that an earlier run had come to; null: all is read. */
  readonly from: KnownHead | null;
  readonly heads: readonly KnownHead[];
  /** Folders and files in which heads are noted. */
  readonly places: readonly string[];
}

/** FILE and the heads noted elsewhere; null when the words make no sense. */
function readParameters(parameters: readonly string[]): Parameters | null {
  const [file, ...options] = parameters;
  if (file === undefined || file.startsWith("-") || options.length % 2 === 1) return null;
  const heads: KnownHead[] = [];
  const places: string[] = [];
  let from: KnownHead | null = null;
  for (let at = 0; at < options.length; at += 2) {
    const [option, value = ""] = [options[at], options[at + 1]];
    const [, sequence, hash] = HEAD.exec(value) ?? [];
    if (option === "--head" && sequence !== undefined && hash !== undefined) {
      heads.push({ sequence: Number(sequence), hash, from: "what you noted" });
    } else if (option === "--from" && from === null && sequence !== undefined && hash !== undefined) {
      from = { sequence: Number(sequence), hash, from: "the run to go on from" };
    } else if (option === "--heads") {
      places.push(resolve(value));
    } else {
      return null;
    }
  }
  return { file, from, heads, places };
}

/** The heads of a place, with what could not be looked at. @throws BenchUnopenable when there is no such place */
async function headsOf(place: string): Promise<Noted> {
  try {
    const noted = await notedHeads(place);
    const ofBackups = listBackups(place).flatMap(({ head, fileName }) =>
      head ? [{ ...head, from: fileName }] : [],
    );
    return { ...noted, heads: [...ofBackups, ...noted.heads] };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new BenchUnopenable({
      code: "bench.missing",
      message: `The heads in ${place} could not be read: ${why}`,
      hint: "Name a folder of backups or exports, an export, or a copy of trail-heads.txt.",
    });
  }
}

function contentsInWords(report: VerifyReport): string {
  const { trailLines, measurements, calibrations, attachments, checks, signOffs, supersededResults, counts } =
    report;
  return [
    countedNoun(trailLines, "line of the trail", "lines of the trail"),
    countedNoun(measurements, "measurement"),
    countedNoun(supersededResults, "superseded result"),
    countedNoun(calibrations, "calibration"),
    countedNoun(checks, "check"),
    countedNoun(signOffs, "sign-off"),
    countedNoun(counts, "count"),
    countedNoun(attachments, "attachment"),
  ].join(", ");
}

function differencesInWords({ differences, more }: VerifyReport): string[] {
  const lines = differences.map(
    ({ where, stored, expected }) =>
      `DIFFERS  ${where}\n         stored:   ${stored}\n         expected: ${expected}`,
  );
  return more ? [...lines, "There are more differences than are listed."] : lines;
}

/** The line with its hash in full, where the trail has it; otherwise null, and all is read. */
function lineToGoOnFrom(db: ReadableDb, from: KnownHead | null): FollowedTo | null {
  if (from === null) return null;
  const hash = hashAtLine(db, from.sequence);
  return hash?.startsWith(from.hash) ? { sequence: from.sequence, hash } : null;
}

function assumedInWords({ sequence }: FollowedTo): string[] {
  return [
    `Went on from line ${sequence}: it has the hash that was given. Lines 1 to ${sequence} were not hashed again.`,
    "This takes for granted that an earlier run followed them and found no difference, and that nobody has changed them since: what was read before was true then. Every record was compared with the trail. A run without --from reads all.",
  ];
}

function stoppedInWords(file: string, to: FollowedTo | null): string {
  const begun = "Stopped before it was finished: nothing is said about what was not read.";
  if (to === null) return begun;
  return `${begun}\nThe chain of hashes agrees up to line ${to.sequence}. To go on from there:\n  npm run verify -- ${file} --from ${to.sequence}:${to.hash}`;
}

/**
 * Verifies a bench file without opening it for writing: every page, every hash, every result from its readings. Prints
 * each difference by its place. What was not read is never said to agree: of a run that goes on from a line the words say
 * what that assumes, of one that is stopped how far it came.
 * @returns 0: all that was read agrees; 1: something differs; 2: the file cannot be verified, or it was stopped
 */
export async function verifyCommand(
  parameters: readonly string[],
  write: (text: string) => void,
  signal: AbortSignal = UNFOLLOWED.signal,
): Promise<0 | 1 | 2> {
  const read = readParameters(parameters);
  if (read === null) {
    write(`${USAGE}\n`);
    return 2;
  }
  const path = resolve(read.file);
  let cameTo: FollowedTo | null = null;
  try {
    const noted = await Promise.all(read.places.map(headsOf));
    const heads = [...read.heads, ...noted.flatMap((one) => one.heads)];
    const whole = wholeOf(path);
    try {
      const chain = {
        goOn: read.from,
        agrees(to: FollowedTo) {
          cameTo = to;
        },
      };
      return await verifyWhole(whole.path, path, { heads, noted, chain, signal }, write);
    } finally {
      whole.remove();
    }
  } catch (error) {
    if (signal.aborted) {
      write(`${stoppedInWords(read.file, cameTo)}\n`);
      return 2;
    }
    if (!(error instanceof BenchUnopenable)) throw error;
    write(`${error.message}\n${error.hint}\n`);
    return 2;
  }
}

interface HowToVerify {
  readonly heads: readonly KnownHead[];
  readonly noted: readonly Noted[];
  readonly chain: { readonly goOn: KnownHead | null; agrees(to: FollowedTo): void };
  readonly signal: AbortSignal;
}

async function verifyWhole(
  file: string,
  path: string,
  { heads, noted, chain, signal }: HowToVerify,
  write: (text: string) => void,
): Promise<0 | 1> {
  const bench = openReadOnly(file);
  try {
    const pages = bench.faults.map((fault) => `DIFFERS  the file itself: ${fault}`);
    const { goOn, agrees } = chain;
    const from = lineToGoOnFrom(bench.db, goOn);
    const following = { ...UNFOLLOWED, signal };
    const report = await verifyBench(bench.db, path, following, undefined, { from, agrees });
    const known = goOn ? [...heads, goOn] : heads;
    const compared = compareHeads(bench.db, known);
    const signatures = compareSignatures(
      bench.db,
      noted.flatMap((one) => one.signed),
    );
    const lines = [...pages, ...differencesInWords(report)];
    const unread = noted.flatMap((one) => one.unread).map((one) => `Not looked at for heads: ${one}`);
    const history = [...headsInWords(compared, heads.length), ...signaturesInWords(signatures)];
    const assumed = from ? assumedInWords(from) : [];
    const unsigned = signatures.wrong.length + signatures.unknown.length;
    const differing = lines.length + compared.differing.length + unsigned;
    const allAgrees = from
      ? `All that was read agrees; lines 1 to ${from.sequence} were not read as a chain.`
      : "All agrees.";
    const verdict =
      differing === 0
        ? allAgrees
        : `${countedNoun(differing, "difference")}${report.more ? " or more" : ""}.`;
    const head = headOfTrail(bench.db);
    const end =
      head === null ? "The trail is empty." : `The trail ends with line ${head.sequence}, ${head.hash}.`;
    const verified = `Verified ${path}: ${contentsInWords(report)}.`;
    write(`${[...lines, ...unread, ...history, ...assumed, verified, end, verdict].join("\n")}\n`);
    return differing === 0 ? 0 : 1;
  } finally {
    bench.close();
  }
}
