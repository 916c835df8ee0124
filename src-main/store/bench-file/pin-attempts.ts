import { readFileSync } from "node:fs";
import { z } from "zod";
import type { BenchPaths } from "../../ports/paths.ts";
import { writeWhole } from "./durable-file.ts";

const Attempts = z.strictObject({ failures: z.int().min(0), blockedUntil: z.string().nullable() });
export type PinAttempts = z.infer<typeof Attempts>;
const Kept = z.record(z.string(), Attempts);

const fileOf = ({ databaseFile }: BenchPaths): string => `${databaseFile}.pin-attempts`;

function readAll(paths: BenchPaths): z.infer<typeof Kept> {
  try {
    return Kept.parse(JSON.parse(readFileSync(fileOf(paths), "utf8")));
  } catch {
    // The bench counts them too.
    return {};
  }
}

/**
 * Wrong PINs in a row, as counted beside the database: a restored backup brings back an earlier count, not the tries that
 * have been made. Empty where the file is missing or cannot be read.
 */
export function pinAttempts(paths: BenchPaths, personId: string): PinAttempts {
  return readAll(paths)[personId] ?? { failures: 0, blockedUntil: null };
}

export function keepPinAttempts(paths: BenchPaths, personId: string, attempts: PinAttempts): void {
  const { [personId]: _, ...others } = readAll(paths);
  const isKept = attempts.failures > 0;
  writeWhole(fileOf(paths), `${JSON.stringify(isKept ? { ...others, [personId]: attempts } : others)}\n`);
}
