import type { BigIntStats } from "node:fs";
import { readdir, readlink, realpath, stat } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { Refusal } from "../../dispatch/refusals.ts";
import type { BenchPaths } from "../../ports/paths.ts";

type Places = Pick<BenchPaths, "dataFolder" | "exportFolder">;

/** A chain of links longer than this leads round in a circle. */
const MOST_LINKS = 40;

/** Where a write to this path ends: every link followed, one whose end is not there yet as well. */
async function endOf(path: string, links = 0): Promise<string> {
  const whole = await realpath(path).catch(() => null);
  if (whole !== null) return whole;
  const target = await readlink(path).catch(() => null);
  if (target !== null && links < MOST_LINKS) return endOf(resolve(dirname(path), target), links + 1);
  const folder = dirname(path);
  return folder === path ? path : join(await endOf(folder, links), basename(path));
}

async function statOf(path: string): Promise<BigIntStats | null> {
  return stat(path, { bigint: true }).catch(() => null);
}

/** By the file system's own identity: names may differ in case, or lead through a mount. */
async function isSame(one: string, other: string): Promise<boolean> {
  if (one === other) return true;
  const [first, second] = await Promise.all([statOf(one), statOf(other)]);
  if (first === null || second === null || first.ino === 0n) return false;
  return first.dev === second.dev && first.ino === second.ino;
}

/** From the path up to the root, the path itself first. */
function upwards(path: string): string[] {
  const folder = dirname(path);
  return folder === path ? [path] : [path, ...upwards(folder)];
}

/** Another name of a file of the bench: writing through it would write into the bench. */
async function isHardLinkInto(bench: string, target: string): Promise<boolean> {
  const found = await statOf(target);
  if (found === null || !found.isFile() || found.nlink < 2n) return false;
  const entries = await readdir(bench, { recursive: true, withFileTypes: true });
  for (const entry of entries) {
    if (entry.isFile() && (await isSame(join(entry.parentPath, entry.name), target))) return true;
  }
  return false;
}

/**
 * Whether a write to `target` would land among the bench's own files: inside its folder by whatever links, mounts and
 * spelling, or on another name of one of its files. The export folder, where it is one of the bench's, is not among them.
 */
export async function liesInBench(target: string, { dataFolder, exportFolder }: Places): Promise<boolean> {
  const [end, bench, exports] = await Promise.all([
    endOf(resolve(target)),
    endOf(dataFolder),
    endOf(exportFolder),
  ]);
  let below: string | null = null;
  for (const folder of upwards(end)) {
    if (await isSame(folder, bench)) {
      const isExports =
        below !== null && exports === join(bench, basename(exportFolder)) && (await isSame(below, exports));
      return !isExports || end === below || (await isHardLinkInto(bench, end));
    }
    below = folder;
  }
  return isHardLinkInto(bench, end);
}

/** @throws Refusal `file.unwritable` when the file would land among the bench's own files */
export async function requireOutsideBench(target: string, paths: Places): Promise<void> {
  if (!(await liesInBench(target, paths))) return;
  throw new Refusal(
    "file.unwritable",
    `${target} is in the bench's own folder, where only Linefall itself writes. Nothing was saved.`,
    { hint: "Save it in another folder, such as Documents." },
  );
}
