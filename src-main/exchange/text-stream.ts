import type { Writable } from "node:stream";
import { drained } from "../workbook/spreadsheet/zip-entries.ts";

const PIECE = 64 * 1024;

/** Text gathered into pieces of a useful size, waiting for the disk when it lags behind. */
export interface TextStream {
  add(text: string): Promise<void>;
  flush(): Promise<void>;
}

export function textStream(stream: Writable): TextStream {
  let held = "";
  async function flush(): Promise<void> {
    const piece = held;
    held = "";
    if (piece === "" || stream.write(piece, "utf8")) return;
    await drained(stream);
  }
  return {
    async add(text) {
      held += text;
      if (held.length >= PIECE) await flush();
    },
    flush,
  };
}
