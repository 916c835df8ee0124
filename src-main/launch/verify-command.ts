import { resolve } from "node:path";
import type { VerifyReport } from "#core/contract/records/trail.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { verifyBench } from "../services/verification/verify-bench.ts";
import { BenchUnopenable } from "../store/bench-file/bench-unopenable.ts";
import { openReadOnly } from "../store/bench-file/read-only.ts";

const USAGE = "Usage: npm run verify -- FILE\nFILE is the bench.sqlite of a bench folder, or a backup.";

function contentsInWords(report: VerifyReport): string {
  const {
    trailLines,
    measurements,
    calibrations,
    attachments,
    checks,
    signOffs,
    supersededResults,
    tallies,
  } = report;
  return [
    countedNoun(trailLines, "line of the trail", "lines of the trail"),
    countedNoun(measurements, "measurement"),
    countedNoun(supersededResults, "superseded result"),
    countedNoun(calibrations, "calibration"),
    countedNoun(checks, "check"),
    countedNoun(signOffs, "sign-off"),
    countedNoun(tallies, "count"),
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

/**
 * Verifies a bench file without opening it for writing: every page, every hash, every result from its readings. Prints
 * each difference by its place. @returns 0: all agrees; 1: something differs; 2: the file cannot be verified
 */
export async function verifyCommand(
  parameters: readonly string[],
  write: (text: string) => void,
): Promise<0 | 1 | 2> {
  const [file, ...others] = parameters;
  if (file === undefined || others.length > 0 || file.startsWith("-")) {
    write(`${USAGE}\n`);
    return 2;
  }
  const path = resolve(file);
  try {
    const bench = openReadOnly(path);
    try {
      const pages = bench.faults.map((fault) => `DIFFERS  the file itself: ${fault}`);
      const report = await verifyBench(bench.db, path);
      const lines = [...pages, ...differencesInWords(report)];
      const verdict =
        lines.length === 0
          ? "All agrees."
          : `${countedNoun(lines.length, "difference")}${report.more ? " or more" : ""}.`;
      write(`${[...lines, `Verified ${path}: ${contentsInWords(report)}.`, verdict].join("\n")}\n`);
      return lines.length === 0 ? 0 : 1;
    } finally {
      bench.close();
    }
  } catch (error) {
    if (!(error instanceof BenchUnopenable)) throw error;
    write(`${error.message}\n${error.hint}\n`);
    return 2;
  }
}
