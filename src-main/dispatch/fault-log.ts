import { appendFileSync, readFileSync, renameSync, statSync } from "node:fs";
import { join } from "node:path";
import { z } from "zod";
import { FaultLine } from "#core/contract/records/bench.ts";
import type { Clock } from "../ports/clock.ts";

/** The log is put aside (one older file is kept) when it has grown beyond this. */
const LARGEST_LOG_BYTES = 1_000_000;
const FILE_NAME = "faults.log";

export interface FaultLog {
  /** Writes down a defect of ours and gives the number a person can quote. Never throws. */
  record(where: string, error: unknown): string;
  /** The newest lines, the newest first; what cannot be read is left out. */
  newest(count: number): FaultLine[];
}

function lastNumber(file: string): number {
  try {
    const numbers = [...readFileSync(file, "utf8").matchAll(/^\{"number":(\d+),/gm)];
    return Number(numbers.at(-1)?.[1] ?? 0);
  } catch {
    return 0;
  }
}

const asQuoted = (number: number): string => `F-${String(number).padStart(4, "0")}`;

const Line = FaultLine.extend({ number: z.int().transform(asQuoted), stack: z.string().default("") });

function linesOf(file: string): FaultLine[] {
  let text = "";
  try {
    text = readFileSync(file, "utf8");
  } catch {
    // No log yet.
  }
  return text.split("\n").flatMap((line) => {
    try {
      const { number, at, where, message, stack } = JSON.parse(line) as Record<string, unknown>;
      return [Line.parse({ number, at, where, message, stack })];
    } catch {
      // Torn by a full disk or a lost power supply.
      return [];
    }
  });
}

function putAsideWhenLarge(file: string): void {
  try {
    if (statSync(file).size > LARGEST_LOG_BYTES) renameSync(file, `${file}.old`);
  } catch {
    // No log yet.
  }
}

/**
 * Faults of a bench, one JSON line each, in its data folder. Holds the call's name and our own error with its stack,
 * never the input of the call: names and readings stay out of it.
 */
export function openFaultLog(dataFolder: string, clock: Clock, log?: (line: string) => void): FaultLog {
  const file = join(dataFolder, FILE_NAME);
  let number = lastNumber(file) || lastNumber(`${file}.old`);
  putAsideWhenLarge(file);
  return {
    record(where, error) {
      number += 1;
      const shown = error instanceof Error ? error : new Error(typeof error);
      const line = {
        number,
        at: clock.now(),
        where,
        name: shown.name,
        message: shown.message,
        stack: shown.stack,
      };
      log?.(`fault ${number} in ${where}: ${shown.message}`);
      try {
        appendFileSync(file, `${JSON.stringify(line)}\n`);
      } catch {
        // A full disk must not turn one fault into two; the number is still told.
      }
      return asQuoted(number);
    },
    newest: (count) => [...linesOf(`${file}.old`), ...linesOf(file)].slice(-count).reverse(),
  };
}
