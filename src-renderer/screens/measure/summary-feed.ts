import type { Client } from "#core/contract/calls.ts";
import type { RowsChanged, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { SheetColumns } from "#core/contract/records/sheet-columns.ts";
import type { GridStore } from "../../grid/grid-store.ts";
import { Listeners } from "../../live/listeners.ts";
import { SheetSummary } from "./sheet-summary.ts";

/** Rows read at a time when a sheet is opened: few enough that no key waits for it. */
const PORTION = 5000;
/** Counting gives the window back to the keyboard after this long, ms. */
const SLICE_MS = 4;
/** Rows counted between two looks at the clock. */
const TOGETHER = 10;

/**
 * Keeps the summary of a sheet: its columns are fetched once, and every row that is stored from then on is counted as
 * it comes back.
 */
export class SummaryFeed {
  readonly summary = new SheetSummary();
  readonly #client: Client;
  readonly #sheetId: string;
  readonly #listeners = new Listeners();
  /** Rows whose factor is being asked for, by ordinal. */
  readonly #withoutFactor = new Map<number, SpecimenRow>();
  #version = 0;
  #counting = new AbortController();

  constructor(client: Client, sheetId: string) {
    this.#client = client;
    this.#sheetId = sheetId;
  }

  /** Grows with every change of the summary. */
  readonly version = (): number => this.#version;

  readonly subscribe = this.#listeners.add;

  /** Counts what is stored and follows the grid; returns the end of it. */
  follow(store: GridStore): () => void {
    let { lastStored: seen, lastChanged: seenChange } = store.state();
    const unsubscribe = store.subscribe(() => {
      const { lastStored, lastChanged } = store.state();
      if (lastStored === seen && lastChanged === seenChange) return;
      if (lastStored !== seen && lastStored !== null) this.#store(lastStored);
      if (lastChanged !== seenChange && lastChanged !== null && !this.#take(lastChanged)) this.#countAgain();
      seen = lastStored;
      seenChange = lastChanged;
      this.#changed();
    });
    this.#countAgain();
    return () => {
      unsubscribe();
      this.#counting.abort();
    };
  }

  #changed(): void {
    this.#version += 1;
    this.#listeners.tell();
  }

  /** Takes an act on several rows in; false when only counting again would do. */
  #take(changed: RowsChanged): boolean {
    if (changed.rows.length !== changed.count - changed.gone.length) return false;
    this.summary.shorten(changed.total);
    for (const row of changed.rows) this.#store(row);
    return true;
  }

  /** Counts a row; where it is the first with its factor, that is asked for and the row is counted again with it. */
  #store(row: SpecimenRow): void {
    this.summary.store(row);
    if (this.summary.knowsFactorsOf(row)) {
      this.#withoutFactor.delete(row.ordinal);
      return;
    }
    this.#withoutFactor.set(row.ordinal, row);
    if (this.#withoutFactor.size === 1) void this.#learnFrom(row.ordinal, this.#counting.signal);
  }

  async #learnFrom(ordinal: number, stop: AbortSignal): Promise<void> {
    const reply = await this.#client("sheets.columns", { sheetId: this.#sheetId, from: ordinal, count: 1 });
    if (stop.aborted) return;
    if (reply.ok) this.summary.learn(reply.value);
    for (const row of this.#withoutFactor.values()) {
      if (this.summary.has(row.ordinal)) this.summary.store(row);
    }
    this.#withoutFactor.clear();
    this.#changed();
  }

  #countAgain(): void {
    this.#counting.abort();
    this.#counting = new AbortController();
    this.summary.clear();
    this.#withoutFactor.clear();
    void this.#countAll(this.#counting.signal);
  }

  async #countAll(stop: AbortSignal): Promise<void> {
    for (let from = 1; ; from += PORTION) {
      const reply = await this.#client("sheets.columns", { sheetId: this.#sheetId, from, count: PORTION });
      if (!reply.ok || stop.aborted) return;
      this.summary.learn(reply.value);
      await countInSlices(reply.value, this.summary, stop);
      if (stop.aborted) return;
      this.#changed();
      if (from + PORTION > reply.value.total) return;
    }
  }
}

async function countInSlices(columns: SheetColumns, summary: SheetSummary, stop: AbortSignal): Promise<void> {
  const struck = new Set(columns.struck);
  let at = 0;
  while (at < columns.count) {
    await new Promise<void>((resolve) => requestIdleCallback(() => resolve(), { timeout: 200 }));
    if (stop.aborted) return;
    const until = performance.now() + SLICE_MS;
    while (at < columns.count && performance.now() < until) {
      const end = Math.min(columns.count, at + TOGETHER);
      for (; at < end; at += 1) summary.storeColumn(columns, at, struck);
    }
  }
}
