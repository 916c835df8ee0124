import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { linesBeyondRows } from "../../store/repositories/audit-trail.ts";

/** A line of the trail with its detail read; of one that was tampered with beyond reading the detail is empty. */
export interface TrailEntry {
  readonly sequence: number;
  readonly at: string;
  readonly by: string | null;
  readonly act: string;
  readonly subject: string;
  readonly subjectId: string;
  readonly reason: string | null;
  readonly detail: Readonly<Record<string, unknown>>;
}

function detailOf(text: string): TrailEntry["detail"] {
  try {
    const read: unknown = JSON.parse(text);
    return typeof read === "object" && read !== null ? (read as TrailEntry["detail"]) : {};
  } catch {
    return {};
  }
}

/** What the trail tells beside single readings and presses, which would be too much to hold: oldest first. */
export class TrailIndex {
  readonly #all: TrailEntry[] = [];

  static async read(db: ReadableDb, yieldToEvents: ReturnType<typeof createYielder>): Promise<TrailIndex> {
    const index = new TrailIndex();
    for (let after = 0; ; ) {
      const { lines, last } = linesBeyondRows(db, after);
      if (last === null) return index;
      after = last;
      for (const { personId, detail, hash: _, ...line } of lines) {
        index.#all.push({ ...line, by: personId, detail: detailOf(detail) });
      }
      await yieldToEvents();
    }
  }

  /** The lines of some acts, oldest first. */
  of(...acts: readonly string[]): TrailEntry[] {
    return this.#all.filter((line) => acts.includes(line.act));
  }

  /** The lines by which records of one kind came upon the bench: by one of these acts, or from a file. */
  made(subject: string, ...acts: readonly string[]): TrailEntry[] {
    return this.of(...acts, "documents.readIn").filter((line) => line.subject === subject);
  }
}
