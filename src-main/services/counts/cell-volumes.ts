import type { ParsedInput } from "#core/contract/calls.ts";
import type { CellVolume, VolumeOfSheet } from "#core/contract/records/cell-volume.ts";
import type { Count } from "#core/contract/records/count.ts";
import { meanVolumeOfRows } from "#core/measurement/mean-cell-volume.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { updateCount } from "../../store/repositories/count-repository.ts";
import { pageOfRows } from "../../store/repositories/row-repository.ts";
import { sheetDataSha256 } from "../../store/repositories/sheet-digest.ts";
import { requireMethod } from "../methods/methods.ts";
import { requireSheet } from "../sheets/sheets.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { withFieldPrefix } from "../write-context/typed-input.ts";

/** More cells than anybody measures of one taxon: the rows are read at once. */
const MOST_ROWS = 5000;

type RowsOfSheet = Pick<VolumeOfSheet, "sheetId" | "label" | "quantity">;

/**
 * The mean volume of the rows of a sheet under a label, as they are now.
 * @throws Refusal `sheet.unknown`; InputError `sheetId`, `quantity` or `label`
 */
function volumeOfSheet(db: ReadableDb, { sheetId, label, quantity }: RowsOfSheet): VolumeOfSheet {
  const sheet = requireSheet(db, sheetId);
  if (sheet.rowCount > MOST_ROWS) {
    throw new InputError("sheetId", `must not have more than ${MOST_ROWS} rows`);
  }
  const { definition } = requireMethod(db, sheet.methodId, "sheetId");
  const rows = pageOfRows(db, sheetId, 1, sheet.rowCount).filter(
    (row) => row.struck === null && (label === null || row.label === label),
  );
  const mean = meanVolumeOfRows(rows, definition, quantity, (id) => findCalibration(db, id)?.result ?? null);
  return { from: "sheet", sheetId, label, ...mean, dataSha256: sheetDataSha256(db, sheetId) };
}

type Input = ParsedInput<"counts.giveCellVolume">;

function cellVolumeOf(db: ReadableDb, category: string, given: NonNullable<Input["given"]>): CellVolume {
  const { carbon, of } = given;
  if (of.from === "typed") return { category, carbon, of };
  const { sheetId, quantity, label } = of;
  const found = withFieldPrefix("given.of", () =>
    volumeOfSheet(db, { sheetId, quantity, label: label === "" ? null : label }),
  );
  return { category, carbon, of: found };
}

function requireCategory({ categories, number }: Count, key: string): void {
  if (categories.some((one) => one.key === key)) return;
  throw new Refusal("category.unknown", `Count ${number} has no such category.`, {
    field: "category",
    hint: "Choose one of its categories.",
  });
}

function withVolume(count: Count, category: string, volume: CellVolume | null): Count {
  const { cellVolumes = [], ...rest } = count;
  const others = cellVolumes.filter((one) => one.category !== category);
  const all = volume ? [...others, volume] : others;
  return all.length === 0 ? rest : { ...rest, cellVolumes: all };
}

/** Gives a category of a count its cell volume, another one, or none; the frozen results stay. */
export function giveCellVolume(ctx: WriteContext, count: Count, { category, given, reason }: Input): Count {
  requireCategory(count, category);
  const before = count.cellVolumes?.find((one) => one.category === category) ?? null;
  if (!before && !given) return count;
  if (before && reason === "") {
    throw new InputError("reason", "is needed: another volume was given before, and stays in the trail");
  }
  const volume = given && cellVolumeOf(ctx.db, category, given);
  const changed = withVolume(count, category, volume);
  updateCount(ctx.db, changed);
  ctx.audit({
    act: "counts.giveCellVolume",
    subject: "count",
    subjectId: count.id,
    ...(reason === "" ? {} : { reason }),
    detail: { category, cellVolume: { from: before, to: volume } },
  });
  return changed;
}

/** The volume that the same rows give now; null where they give none any more. */
export function volumeNow(db: ReadableDb, of: VolumeOfSheet): VolumeOfSheet | null {
  try {
    return volumeOfSheet(db, of);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** The categories whose sheet now gives another volume, or none. */
export function movedCellVolumes(db: ReadableDb, { cellVolumes = [] }: Count): string[] {
  return cellVolumes.flatMap(({ category, of }) => {
    if (of.from === "typed") return [];
    const now = volumeNow(db, of);
    const same = now !== null && now.volume === of.volume && now.cells === of.cells && sameDoubts(now, of);
    return same ? [] : [category];
  });
}

function sameDoubts(a: VolumeOfSheet, b: VolumeOfSheet): boolean {
  return JSON.stringify(a.components) === JSON.stringify(b.components);
}
