import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import { apartSizes, readingFloor } from "#core/measurement/sheet-findings.ts";
import { labelStem } from "#core/measurement/size-history.ts";
import { type ApartValues, isApart, momentsOf } from "#core/statistics/apart-values.ts";
import type { Lookups } from "./lookups.ts";
import type { SheetBundle } from "./sheet-bundle-type.ts";

/** One value apart from the rest of its label. */
export interface ApartRow {
  readonly ordinal: number;
  readonly label: string;
  readonly dimension: string;
  readonly shown: string;
}

/** The values of a sheet apart from the rest of their label, as the window shows them while it is measured. */
export interface ApartRows {
  readonly rows: readonly ApartRow[];
  has(row: Pick<SpecimenRow, "label" | "struck">, measurement: Measurement): boolean;
}

interface Sample {
  readonly sizes: number[];
  floor: number;
}

const keyOf = (label: string, dimension: string): string => `${dimension}/${labelStem(label)}`;

/** Gathers the sizes of a sheet by label and dimension; what lies apart is known once all have been seen. */
export class ApartSurvey {
  readonly #samples = new Map<string, Sample>();
  readonly #floors = new Map<string, number>();
  readonly #reading: SheetBundle["method"]["definition"]["reading"];
  readonly #lookups: Lookups;

  constructor(bundle: SheetBundle, lookups: Lookups) {
    this.#reading = bundle.method.definition.reading;
    this.#lookups = lookups;
  }

  /** Struck rows are not compared with. */
  add({ label, struck }: SpecimenRow, { dimension, size, calibrationId }: Measurement): void {
    if (size === null || struck !== null) return;
    const key = keyOf(label, dimension);
    const sample = this.#samples.get(key) ?? { sizes: [], floor: 0 };
    this.#samples.set(key, sample);
    sample.sizes.push(Number(size.value));
    sample.floor = Math.max(sample.floor, this.#floorOf(calibrationId));
  }

  #floorOf(calibrationId: string | null): number {
    if (calibrationId === null) return 0;
    const known = this.#floors.get(calibrationId);
    if (known !== undefined) return known;
    const result = this.#lookups.calibration(calibrationId)?.record.result;
    const floor = readingFloor(this.#reading, result?.factor ?? null);
    this.#floors.set(calibrationId, floor);
    return floor;
  }

  /** @param rows walked once more only when something lies apart */
  finish(rows: () => Iterable<SpecimenRow>): ApartRows {
    const apart = new Map<string, ApartValues>();
    for (const [key, { sizes, floor }] of this.#samples) {
      const found = apartSizes(momentsOf(sizes), floor);
      if (found.count > 0) apart.set(key, found);
    }
    const has: ApartRows["has"] = ({ label, struck }, { dimension, size }) => {
      const found = apart.get(keyOf(label, dimension));
      return struck === null && size !== null && found !== undefined && isApart(Number(size.value), found);
    };
    return { rows: apart.size === 0 ? [] : [...listed(rows(), has)], has };
  }
}

function* listed(rows: Iterable<SpecimenRow>, has: ApartRows["has"]): Iterable<ApartRow> {
  for (const row of rows) {
    const { ordinal, label } = row;
    for (const one of row.measurements) {
      if (has(row, one))
        yield { ordinal, label, dimension: one.dimension, shown: one.size?.shownValue ?? "" };
    }
  }
}
