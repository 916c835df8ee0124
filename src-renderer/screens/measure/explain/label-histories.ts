import type { LabelHistory } from "#core/contract/records/sheet-columns.ts";
import { labelStem } from "#core/measurement/size-history.ts";

/** What labels measured on other sheets of this method, found by a row's label with or without its running number. */
export class LabelHistories {
  readonly #records: ReadonlyMap<string, LabelHistory>;

  constructor(records: readonly LabelHistory[]) {
    this.#records = new Map(records.map((one) => [keyOf(one.label, one.dimension), one]));
  }

  of(label: string, dimension: string): LabelHistory | null {
    const stem = labelStem(label);
    return stem === "" ? null : (this.#records.get(keyOf(stem, dimension)) ?? null);
  }
}

export const NO_HISTORIES = new LabelHistories([]);

function keyOf(stem: string, dimension: string): string {
  return `${dimension}/${stem}`;
}
