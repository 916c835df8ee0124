import { measureBackupSpace } from "./backup-space.ts";
import { measureBeside, WORKS } from "./entry-beside.ts";
import { measureOpening, measureSize } from "./size-and-opening.ts";
import { keptTenYears, type TenYears } from "./ten-years.ts";
import { measureVerify, measureVerifyResumed } from "./verify-lines.ts";

export interface LongLifeOptions {
  /** Numbers of rows, with commas between. */
  readonly rows?: string | undefined;
  /** Names of parts, with commas between; all of them when it says nothing. */
  readonly part?: string | undefined;
  /** Folder in which the benches are kept for the next time. */
  readonly kept?: string | undefined;
}

const DEFAULT_ROWS = "100000,1000000";
const DEFAULT_FOLDER = "/var/tmp/linefall-ten-years";

type Part = (ten: TenYears) => unknown;
const PARTS: Readonly<Record<string, Part>> = {
  size: measureSize,
  opening: measureOpening,
  verify: measureVerify,
  "verify-resumed": measureVerifyResumed,
  ...Object.fromEntries(
    Object.keys(WORKS).map((name) => [`entry-beside-${name}`, (ten: TenYears) => measureBeside(ten, name)]),
  ),
  "backup-space": measureBackupSpace,
};

async function measure(name: string, part: Part, folder: string, rows: number): Promise<void> {
  const ten = await keptTenYears(folder, rows);
  const start = performance.now();
  console.log(`\n${name}, ${rows.toLocaleString("en-GB")} rows`);
  try {
    await part(ten);
  } finally {
    ten.remove();
  }
  console.log(`(${Math.round((performance.now() - start) / 1000)} s)`);
}

/**
 * A bench of ten years, part by part, each on a copy of its own of a bench that is made once and kept: bytes of a row,
 * opening, verify, a reading's answer beside long work with the -wal file meanwhile, the space of backups. Every figure
 * stands beside what was promised. A million rows are made in three to ten minutes, and need some 4 GB with their copies.
 * @throws Error for a part that is not there
 */
export async function benchLongLife({ rows = DEFAULT_ROWS, part, kept }: LongLifeOptions): Promise<void> {
  const names = part?.split(",") ?? Object.keys(PARTS);
  for (const number of rows.split(",").map(Number)) {
    for (const name of names) {
      const found = PARTS[name];
      if (!found) throw new Error(`No part ${name}. There are: ${Object.keys(PARTS).join(", ")}`);
      await measure(name, found, kept ?? DEFAULT_FOLDER, number);
    }
  }
}
