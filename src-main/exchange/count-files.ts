import { stat } from "node:fs/promises";
import { shortHead } from "#core/contract/records/trail.ts";
import { STORED } from "#core/contract/stored-names.ts";
import { picturesOfFields } from "#core/counting/field-pictures.ts";
import { categoriesAtWork } from "#core/counting/lists/categories-at-work.ts";
import { type Progress, withProgress } from "../long-work/progress.ts";
import type { CountBundle } from "../workbook/count-book/count-bundle-type.ts";
import { countDigest } from "../workbook/count-book/count-digest.ts";
import type { WrittenFile } from "../workbook/sheet-book/workbook.ts";
import { writeFileWhole } from "../workbook/spreadsheet/write-file.ts";
import { CSV_MARK, csvNumber, csvRecord, csvText } from "./csv-text.ts";
import { textStream } from "./text-stream.ts";

/** Columns in front of the categories, which follow by name in the order of the count. */
export const COUNT_CSV_COLUMNS = [
  "count",
  "sample",
  "customer",
  "field",
  "x (mm)",
  "y (mm)",
  "begun at (UTC)",
  "counted to its end",
] as const;

async function requireBytes(path: string): Promise<void> {
  const { size } = await stat(path);
  if (size === 0) throw new Error("The file was cut off while it was written.");
}

/**
 * Fields × categories as one table by RFC 4180 in UTF-8 with its mark, one record per field, whole or not at all.
 * @throws Error of the file system, and when it is stopped
 */
export async function writeCountCsv(
  bundle: CountBundle,
  path: string,
  progress: Progress,
): Promise<WrittenFile> {
  const { count, fields, results } = bundle;
  const bytes = await writeFileWhole(
    path,
    async (stream) => {
      const out = textStream(stream);
      const categories = categoriesAtWork(count.categories, fields);
      const names = categories.map((category) => category.name);
      const head = csvText(shortHead(bundle.trailHead));
      const pictures = picturesOfFields(bundle.pictures, fields.length);
      const last = ["finder-slide square", "pictures", "audit trail up to"];
      await out.add(CSV_MARK + csvRecord([...COUNT_CSV_COLUMNS, ...names, ...last].map(csvText)));
      for await (const field of withProgress(fields, progress)) {
        await out.add(
          csvRecord([
            csvText(count.number),
            csvText(count.sample),
            csvText(count.customer ?? ""),
            csvNumber(field.ordinal),
            csvText(field.position?.x ?? ""),
            csvText(field.position?.y ?? ""),
            csvText(field.begunAt),
            csvText(field.ordinal <= results.fields ? "yes" : "no"),
            ...categories.map(({ key }) => csvNumber(field.counts[key] ?? "0")),
            csvText(field.position?.square ?? ""),
            csvText((pictures.get(field.ordinal) ?? []).map((one) => one.caption || one.fileName).join("; ")),
            head,
          ]),
        );
      }
      await out.flush();
    },
    requireBytes,
  );
  return { bytes, dataSha256: await countDigest(bundle, progress) };
}

export const COUNT_DOCUMENT_FORMAT = "linefall-count";

/**
 * The whole count as one JSON file: method, results, calibration, fields and every event in order; whole or not at all.
 * @throws Error of the file system, and when it is stopped
 */
export async function writeCountJson(
  bundle: CountBundle,
  path: string,
  progress: Progress,
): Promise<WrittenFile> {
  const { events, program, asOf, count, ...others } = bundle;
  const records = { [STORED.count]: count, ...others };
  const dataSha256 = await countDigest(bundle, progress);
  const head = { format: COUNT_DOCUMENT_FORMAT, version: 1, program, madeAt: asOf, dataSha256, ...records };
  const bytes = await writeFileWhole(
    path,
    async (stream) => {
      const out = textStream(stream);
      await out.add(`${JSON.stringify(head).slice(0, -1)},\n"events":[`);
      let separator = "\n";
      for await (const event of withProgress(events(), progress)) {
        await out.add(separator + JSON.stringify(event));
        separator = ",\n";
      }
      await out.add("\n]}\n");
      await out.flush();
    },
    requireBytes,
  );
  return { bytes, dataSha256 };
}
