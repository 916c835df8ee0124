import type { TrailLine } from "#core/contract/records/trail.ts";
import { eventOf, type ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { Act } from "#core/contract/trail-events/trail-event.ts";
import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { linesBeyondRows } from "../../store/repositories/audit-trail.ts";

/** Of a line that was tampered with beyond reading the detail is empty. */
function readable(line: TrailLine): ToldEvent {
  try {
    return eventOf(line);
  } catch {
    return eventOf({ ...line, detail: "{}" });
  }
}

/** How records of a kind came upon the bench. */
export type Made<A extends Act, S extends string> = Extract<
  ToldEvent<A | "documents.readIn">,
  { readonly subject: S }
>;

/** What the trail tells beside single readings and presses, which would be too much to hold: oldest first. */
export class TrailIndex {
  readonly #all: ToldEvent[] = [];

  static async read(db: ReadableDb, yieldToEvents: ReturnType<typeof createYielder>): Promise<TrailIndex> {
    const index = new TrailIndex();
    for (let after = 0; ; ) {
      const { lines, last } = linesBeyondRows(db, after);
      if (last === null) return index;
      after = last;
      for (const line of lines) index.#all.push(readable(line));
      await yieldToEvents();
    }
  }

  /** The events of some acts, oldest first. */
  of<A extends Act>(...acts: readonly A[]): ToldEvent<A>[] {
    return this.#all.filter(({ act }) => (acts as readonly Act[]).includes(act)) as ToldEvent<A>[];
  }

  /** The words put right since they were registered, by the record they stand in. */
  corrections(): Map<string, ToldEvent<"records.correct">[]> {
    return Map.groupBy(this.of("records.correct"), ({ subjectId }) => subjectId);
  }

  /** The events by which records of one kind came upon the bench: by one of these acts, or from a file. */
  made<S extends string, A extends Act = never>(subject: S, ...acts: readonly A[]): Made<A, S>[] {
    const made = this.of<Act>(...acts, "documents.readIn");
    return made.filter((event) => event.subject === subject) as unknown as Made<A, S>[];
  }
}
