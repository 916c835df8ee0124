import { picturesOfFields } from "#core/counting/field-pictures.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, formula, instant, number, text } from "../spreadsheet/cell.ts";
import { pictureCells } from "../spreadsheet/picture-cells.ts";
import { columnLetters, openSheet } from "../spreadsheet/sheet-writer.ts";
import { DERIVED_HEADINGS as H } from "../words/headings.ts";
import { COUNT_WORKSHEETS, type CountJob, FIELD_COLUMNS } from "./count-job.ts";

const widthOf = (heading: string): number => (heading === H.square ? 12 : heading === H.pictures ? 30 : 66);

/** Fields × categories, one line per field, an empty field too; the total is a formula. */
export async function writeCountFields(workbook: BookWriter, job: CountJob): Promise<void> {
  const { fields } = job.bundle;
  const { categories } = job;
  const isSquared = fields.some(({ position }) => position?.square !== undefined);
  const pictures = picturesOfFields(job.bundle.pictures, fields.length);
  const more = [
    ...(isSquared ? [H.square] : []),
    ...(pictures.size > 0 ? [H.pictures, H.pictureHashes] : []),
  ];
  const sheet = openSheet(
    workbook,
    {
      name: COUNT_WORKSHEETS.fields,
      widths: [8, 12, 12, 20, 12, ...categories.map(() => 14), 10, ...more.map(widthOf)],
      frozenRows: 1,
      frozenColumns: 1,
      titleRows: "1:1",
      landscape: true,
      footer: job.trace,
      programLine: job.programLine,
      countsRows: true,
    },
    job,
  );
  const kinds = { object: "", marker: " (marker)", aside: " (beside)", doubtful: " (doubtful)" };
  sheet.row(
    [
      ...FIELD_COLUMNS,
      ...categories.map((category) => `${category.name}${kinds[category.kind]}`),
      "total",
      ...more,
    ].map((heading) => text(heading, "column")),
  );
  const objectColumns = categories.flatMap((category, i) =>
    category.kind === "object" ? [columnLetters(FIELD_COLUMNS.length + 1 + i)] : [],
  );
  for (const field of fields) {
    const at = sheet.nextRow;
    const counts = categories.map((category) => Number(field.counts[category.key] ?? "0"));
    const total = categories.reduce(
      (sum, category, i) => sum + (category.kind === "object" ? (counts[i] ?? 0) : 0),
      0,
    );
    const cells: Cell[] = [
      number(field.ordinal, "whole"),
      text(field.position?.x ?? ""),
      text(field.position?.y ?? ""),
      instant(field.begunAt),
      text(field.ordinal <= job.countedFields ? "yes" : "no"),
      ...counts.map((count) => number(count, "given")),
      formula(objectColumns.map((letters) => `${letters}${at}`).join("+") || "0", total, "plain"),
      ...(isSquared ? [text(field.position?.square ?? "")] : []),
      ...(pictures.size > 0 ? pictureCells(pictures.get(field.ordinal) ?? []) : []),
    ];
    await sheet.longRow(cells);
  }
  await sheet.finish();
}
