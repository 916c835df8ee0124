import { parseArgs } from "node:util";

export interface LoopbackStart {
  /** The bench's folder; null for the person's own (or, with `demo`, a throwaway one). */
  readonly folder: string | null;
  readonly demo: boolean;
  readonly withWindow: boolean;
  /** In a browser's window, whatever else could open one. */
  readonly browser: boolean;
  readonly port: number;
  /** Number of the way out to take when the bench does not open, counted from 1; null asks. */
  readonly recover: number | null;
}

export const USAGE = `Options:
  --data FOLDER   open the bench in this folder
  --demo          open an invented demonstration bench; without --data it is thrown away at the end
  --browser       open in a browser window, even where Electron is installed
  --no-window     open no window: print the address and keep serving
  --port N        listen on this port of 127.0.0.1 instead of a free one
  --recover N     when the bench does not open, take way out N of those listed`;

/** @throws {Error} with a sentence for the person when an option is unknown or its value makes no sense */
export function parseStart(argv: readonly string[]): LoopbackStart {
  const { values } = parseArgs({
    args: [...argv],
    strict: true,
    options: {
      data: { type: "string" },
      demo: { type: "boolean", default: false },
      browser: { type: "boolean", default: false },
      "no-window": { type: "boolean", default: false },
      port: { type: "string", default: "0" },
      recover: { type: "string" },
    },
  });
  return {
    folder: values.data ?? null,
    demo: values.demo,
    withWindow: !values["no-window"],
    browser: values.browser,
    port: wholeNumber("--port", values.port, 0, 65_535),
    recover: values.recover === undefined ? null : wholeNumber("--recover", values.recover, 1, 99),
  };
}

function wholeNumber(option: string, text: string, least: number, most: number): number {
  const value = /^\d{1,5}$/.test(text) ? Number(text) : Number.NaN;
  if (value >= least && value <= most) return value;
  throw new Error(`${option} takes a whole number from ${least} to ${most}, not “${text}”.`);
}
