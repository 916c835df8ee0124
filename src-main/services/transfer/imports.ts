import type { z } from "zod";
import type { ImportChoice } from "#core/contract/records/exchange.ts";
import type { MethodDimension } from "#core/contract/records/method.ts";
import type { Measurement, NewSheet, Sheet, SizesElsewhere } from "#core/contract/records/sheet.ts";
import { elsewhereWords } from "#core/measurement/elsewhere-words.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { guessColumns } from "../../exchange/import-guess.ts";
import { type ImportLines, readImportLines } from "../../exchange/import-lines.ts";
import {
  type ImportedRow,
  type ImportResult,
  importRows,
  unclearColumns,
} from "../../exchange/import-rows.ts";
import { fileSha256, type UploadStore } from "../../exchange/upload-store.ts";
import type { JournalChange } from "../../store/repositories/journal-repository.ts";
import {
  appendRow,
  describeRow,
  findRow,
  putElsewhere,
  putMeasurement,
} from "../../store/repositories/row-repository.ts";
import { findSheet } from "../../store/repositories/sheet-repository.ts";
import { requireMethod } from "../methods/methods.ts";
import { measurementWith, type TypedCell } from "../sheets/enter-reading.ts";
import { stateForTrail } from "../sheets/row-from-trail.ts";
import { changesOfRow, journalAct } from "../sheets/row-journal.ts";
import { SheetConverter } from "../sheets/sheet-converter.ts";
import { openSheet } from "../sheets/sheets.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce, type WriteContext } from "../write-context/in-transaction.ts";
import { orUnreadable } from "./exchange-check.ts";

const SHOWN_LINES = 20;
const SHOWN_ROWS = 12;
const MOST_REFUSED_LISTED = 200;
const LONGEST_NOTE = 4000;

interface Source {
  readonly fileName: string;
  readonly sha256: string;
}

/** `23.0 to 51.5`, `28.5 div` or `25.3 µm, converted elsewhere by …`, per dimension. */
function wordsOf(row: ImportedRow, dimensions: readonly MethodDimension[], convertedBy: string): string[] {
  const nameOf = (key: string): string => dimensions.find((one) => one.key === key)?.name ?? key;
  const byDimension = new Map<string, Partial<Record<"left" | "right" | "direct", string>>>();
  for (const { dimension, edge, typed } of row.readings) {
    byDimension.set(dimension, { ...byDimension.get(dimension), [edge]: typed });
  }
  const readings = [...byDimension].map(([key, { left, right, direct }]) =>
    direct === undefined
      ? `${nameOf(key)}: ${left ?? "?"} to ${right ?? "?"}`
      : `${nameOf(key)}: ${direct} div`,
  );
  return [
    ...readings,
    ...row.converted.map((one) => `${nameOf(one.dimension)}: ${elsewhereWords(one.typed, { convertedBy })}`),
  ];
}

/** The row's note, behind it where the row comes from. */
function noteOf(row: ImportedRow, source: Source): string {
  const origin = `From ${source.fileName}, line ${row.line}.`;
  const own = row.note.slice(0, LONGEST_NOTE - origin.length - 1);
  return own === "" ? origin : `${own}\n${origin}`;
}

/** What of a line was not measured here; undefined: nothing. */
function elsewhereOf({ converted }: ImportedRow, convertedBy: string): SizesElsewhere | undefined {
  return converted.length === 0 ? undefined : { convertedBy, sizes: [...converted] };
}

/** Stores one line as a row, with one line of the trail that tells its readings and where they come from. */
function importRow(
  ctx: WriteContext,
  {
    converter,
    sheet,
    source,
    rowId,
    convertedBy,
  }: { converter: SheetConverter; sheet: Sheet; source: Source; rowId: string; convertedBy: string },
  row: ImportedRow,
): JournalChange[] {
  const { db } = ctx;
  appendRow(db, sheet.id, rowId, row.label);
  const measurements = new Map<string, Measurement>();
  for (const { key } of converter.method.definition.dimensions) {
    const [first, ...more] = row.readings
      .filter((one) => one.dimension === key)
      .map(({ edge, typed }): TypedCell => ({ cell: { dimension: key, edge, repeat: 1 }, typed }));
    if (first === undefined) continue;
    const taken = { cells: [first, ...more] as const, label: row.label };
    measurements.set(key, measurementWith(ctx, converter, taken, undefined));
  }
  for (const measurement of measurements.values()) putMeasurement(db, rowId, measurement);
  describeRow(db, rowId, { label: row.label, note: noteOf(row, source), stage: null });
  putElsewhere(db, rowId, elsewhereOf(row, convertedBy));
  const stored = findRow(db, rowId);
  if (!stored) throw new Error(`row ${rowId} is missing after it was written`);
  ctx.audit({
    act: "imports.accept",
    subject: "specimen_row",
    subjectId: rowId,
    detail: {
      ...stateForTrail(stored, [...measurements.keys()]),
      import: { ...source, line: row.line, convertedElsewhere: row.converted },
    },
  });
  return changesOfRow(null, stored);
}

function refuseUnclear(reason: string | null): void {
  if (reason === null) return;
  throw new Refusal("columns.unclear", reason, {
    field: "choice.columns",
    hint: "Say for each column what it holds, then look at the preview again.",
  });
}

/** A size that came in micrometres is worth no more than what is known of its origin. */
function refuseUnnamed({ rows }: ImportResult, { convertedBy }: ImportChoice): void {
  if (convertedBy !== "" || rows.every(({ converted }) => converted.length === 0)) return;
  throw new Refusal("conversion.unnamed", "Sizes in µm come with no word of how they were converted.", {
    field: "choice.convertedBy",
    hint: "Name the factor or the program that made them, or write that it is not known. Nothing was stored.",
  });
}

/** Files of earlier readings: read, previewed and, once accepted, entered whole. */
export function importServices(deps: Deps, uploads: UploadStore) {
  async function linesOf(uploadId: string, worksheet: string | null): Promise<ImportLines> {
    const { path, fileName } = uploads.finished(uploadId);
    const lines = await orUnreadable(fileName, () => readImportLines(path, worksheet));
    if (lines) return lines;
    throw new Refusal("worksheet.unknown", `${fileName} has no worksheet of that name.`, {
      field: "worksheet",
      hint: "Choose one of its worksheets.",
    });
  }

  async function resultOf(choice: ImportChoice): Promise<ImportResult> {
    const { dimensions } = requireMethod(deps.db, choice.methodId, "methodId").definition;
    refuseUnclear(unclearColumns(choice.columns, dimensions));
    const { lines } = await linesOf(choice.uploadId, choice.worksheet);
    return importRows(lines, choice);
  }

  function store(
    ctx: WriteContext,
    sheet: z.output<typeof NewSheet>,
    source: Source,
    { rows, refusedLines }: ImportResult,
    convertedBy: string,
  ): Sheet {
    const opened = openSheet(ctx, deps.ids, sheet, null);
    const converter = new SheetConverter(ctx.db, opened, { personId: ctx.by.id, today: deps.clock.today() });
    ctx.audit({
      act: "imports.accept",
      subject: "sheet",
      subjectId: opened.id,
      detail: { import: { ...source, rows: rows.length, refusedLines } },
    });
    const changes = rows.flatMap((row) =>
      importRow(ctx, { converter, sheet: opened, source, rowId: deps.ids.next(), convertedBy }, row),
    );
    journalAct(ctx, opened.id, `the import of ${source.fileName}`, changes);
    const stored = findSheet(ctx.db, opened.id);
    if (!stored) throw new Error(`sheet ${opened.id} is missing after it was written`);
    return stored;
  }

  return handlers({
    "imports.read": async ({ uploadId, worksheet, methodId }) => {
      const { dimensions } = requireMethod(deps.db, methodId, "methodId").definition;
      const { path, fileName } = uploads.finished(uploadId);
      const { lines, ...found } = await linesOf(uploadId, worksheet);
      return {
        fileName,
        ...found,
        worksheets: [...found.worksheets],
        sha256: await fileSha256(path),
        lines: lines.length,
        columns: lines.reduce((most, line) => Math.max(most, line.length), 0),
        sample: lines.slice(0, SHOWN_LINES).map((line) => line.map((cell) => cell.slice(0, 200))),
        suggested: guessColumns(lines, dimensions),
      };
    },

    "imports.preview": async (choice) => {
      const { rows, refused, refusedLines } = await resultOf(choice);
      const { dimensions } = requireMethod(deps.db, choice.methodId, "methodId").definition;
      return {
        rows: rows.length,
        refusedLines,
        readings: rows.reduce((sum, row) => sum + row.readings.length, 0),
        convertedElsewhere: rows.reduce((sum, row) => sum + row.converted.length, 0),
        first: rows.slice(0, SHOWN_ROWS).map((row) => ({
          line: row.line,
          label: row.label,
          note: row.note,
          readings: wordsOf(row, dimensions, choice.convertedBy || "…"),
        })),
        refused: refused.slice(0, MOST_REFUSED_LISTED),
      };
    },

    "imports.accept": async (input) => {
      const { choice, sheet, withoutRefused } = input;
      const { path, fileName } = uploads.finished(choice.uploadId);
      const result = await resultOf({ ...choice, methodId: sheet.methodId });
      if (result.refusedLines > 0 && !withoutRefused) {
        throw new Refusal(
          "lines.refused",
          `${result.refusedLines} line(s) of ${fileName} cannot be taken in.`,
          {
            field: "withoutRefused",
            hint: "Correct the file and choose it again, or accept the import without these lines. Nothing was stored.",
          },
        );
      }
      refuseUnnamed(result, choice);
      const source = { fileName, sha256: await fileSha256(path) };
      return inTransactionOnce(
        deps,
        "imports.accept",
        input,
        (ctx) => store(ctx, sheet, source, result, choice.convertedBy),
        findSheet,
      );
    },
  });
}
