import type { ReadingCell } from "#core/contract/records/sheet.ts";
import type { Reply } from "#core/contract/reply.ts";
import { LOST_PAUSE } from "../live/lost-pause.ts";
import { readingKey } from "./grid-columns.ts";
import { cellKey } from "./grid-state.ts";

/** Typing pauses this long before half-typed text is kept, ms. */
const DRAFT_PAUSE = 300;

/** Half-typed text of one cell; empty: forgotten. */
export interface HalfTypedCell {
  readonly rowId: string;
  readonly cell: ReadingCell;
  readonly typed: string;
}

export interface CellDraftsOptions {
  readonly send: (draft: HalfTypedCell) => Promise<Reply<unknown>>;
  /** Writes go in single file, so that a draft can never arrive after the reading that replaces it. */
  readonly inLane: (work: () => Promise<void>) => void;
}

/** Keeps half-typed text at the service whenever typing pauses, so that it comes back after a crash. */
export class CellDrafts {
  readonly #given: CellDraftsOptions;
  readonly #waiting = new Map<string, { draft: HalfTypedCell; timer: ReturnType<typeof setTimeout> }>();
  #closed = false;

  constructor(given: CellDraftsOptions) {
    this.#given = given;
  }

  keep({ rowId, cell, typed }: HalfTypedCell, now: boolean): void {
    this.#keepAfter({ rowId, cell, typed }, now ? 0 : DRAFT_PAUSE);
  }

  /** The text of this cell is being sent: a draft of it must not be kept any more. */
  drop(cell: Pick<HalfTypedCell, "rowId" | "cell">): void {
    const key = keyOf(cell);
    clearTimeout(this.#waiting.get(key)?.timer);
    this.#waiting.delete(key);
  }

  /** Keeps at once what waits for a pause in typing. */
  flush(): void {
    for (const { draft } of [...this.#waiting.values()]) {
      this.drop(draft);
      this.#send(draft);
    }
  }

  close(): void {
    this.flush();
    this.#closed = true;
  }

  #keepAfter(draft: HalfTypedCell, pause: number): void {
    const key = keyOf(draft);
    this.drop(draft);
    const timer = setTimeout(() => {
      this.#waiting.delete(key);
      this.#send(draft);
    }, pause);
    this.#waiting.set(key, { draft, timer });
  }

  #send(draft: HalfTypedCell): void {
    this.#given.inLane(async () => {
      const reply = await this.#given.send(draft);
      // A later draft or the reading itself takes its place; else it is tried again.
      const isLost = !reply.ok && reply.error.code === "host.lost";
      if (isLost && !this.#closed && !this.#waiting.has(keyOf(draft))) {
        this.#keepAfter(draft, LOST_PAUSE);
      }
    });
  }
}

function keyOf({ rowId, cell }: Pick<HalfTypedCell, "rowId" | "cell">): string {
  return cellKey(rowId, readingKey(cell));
}
