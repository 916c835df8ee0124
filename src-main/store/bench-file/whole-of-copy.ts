import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { CONDENSED, stemOf } from "./backup-file-name.ts";
import { BenchUnopenable } from "./bench-unopenable.ts";
import { presentFile, rebuildCopy } from "./copy-chain.ts";
import { failureKind } from "./store-failure.ts";

/** A file to be read as a bench. */
export interface WholeFile {
  readonly path: string;
  /** Lets go of it, where it was made to be read. */
  remove(): void;
}

/**
 * The file itself, or a condensed copy rebuilt in a temporary folder: nothing is written beside it.
 * @throws BenchUnopenable naming the part of it that is damaged or missing
 */
export function wholeOf(path: string): WholeFile {
  const [folder, name] = [dirname(path), basename(path)];
  if (!name.endsWith(CONDENSED) || presentFile(folder, stemOf(name)) === null) {
    return { path, remove: () => undefined };
  }
  const temporary = mkdtempSync(join(tmpdir(), "linefall-rebuilt-"));
  const remove = (): void => rmSync(temporary, { recursive: true, force: true });
  try {
    const rebuilt = join(temporary, "bench.sqlite");
    const faults = rebuildCopy(folder, name, rebuilt);
    if (faults.length === 0) return { path: rebuilt, remove };
    throw new BenchUnopenable({
      code: "bench.damaged",
      message: `${path} cannot be rebuilt: ${faults.join("; ")}.`,
      hint: "Verify another backup.",
    });
  } catch (error) {
    remove();
    if (failureKind(error) === null) throw error;
    throw new BenchUnopenable(
      {
        code: "bench.disk-full",
        message: `${path} cannot be rebuilt in ${tmpdir()} (${error instanceof Error ? error.message : String(error)}).`,
        hint: "Make room there for the whole bench, or name another folder in TMPDIR.",
      },
      error,
    );
  }
}
