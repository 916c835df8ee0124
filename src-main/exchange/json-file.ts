import { createReadStream } from "node:fs";
import { z } from "zod";
import { StoredDecimal } from "#core/contract/records/primitives.ts";
import {
  type DocumentSheet,
  SHEET_DOCUMENT_FORMAT,
  SHEET_DOCUMENT_VERSION,
  SheetDocument,
} from "#core/contract/records/sheet-document.ts";
import type { Progress } from "../long-work/progress.ts";
import {
  historyDigest,
  jointDigest,
  openDigest,
  verdictsDigest,
} from "../workbook/sheet-book/data-digest.ts";
import type { SheetBundle } from "../workbook/sheet-book/sheet-bundle-type.ts";
import type { WrittenFile } from "../workbook/sheet-book/workbook.ts";
import { writeFileWhole } from "../workbook/spreadsheet/write-file.ts";
import { rowsWithProgress } from "./rows-with-progress.ts";
import { type TextStream, textStream } from "./text-stream.ts";

/** The JSON Schema (draft 2020-12) of the file, derived from the types that the program itself reads and writes by. */
export function sheetDocumentSchema(): object {
  return z.toJSONSchema(SheetDocument, {
    io: "output",
    unrepresentable: "any",
    override: ({ zodSchema, jsonSchema }) => {
      if (zodSchema !== StoredDecimal) return;
      jsonSchema.type = "string";
      jsonSchema.pattern = "^-?\\d+(\\.\\d+)?$";
    },
  });
}

/** Replaced results go by one at a time, like rows. */
async function writeHistory(out: TextStream, bundle: SheetBundle): Promise<void> {
  const { results, ...earlier } = bundle.earlier;
  await out.add(`"earlier":${JSON.stringify(earlier).slice(0, -1)},"results":[`);
  let separator = "\n";
  for (const result of results()) {
    await out.add(separator + JSON.stringify(result));
    separator = ",\n";
  }
  const { signOffs, pictures = [], assessments = [], checks = [], overdueUses = [] } = bundle;
  for (const [name, list] of Object.entries({ signOffs, pictures, assessments, checks, overdueUses })) {
    await out.add(`${name === "signOffs" ? "]}" : ""},\n"${name}":${JSON.stringify(list)}`);
  }
  const digests = { verdictsSha256: verdictsDigest(bundle), historySha256: historyDigest(bundle) };
  await out.add(`,\n${JSON.stringify(digests).slice(1)}`);
}

async function writeSheet(out: TextStream, bundle: SheetBundle, progress: Progress): Promise<string> {
  const digest = openDigest(bundle);
  const { sheet, method, people, microscope, trains, calibrations, stageMicrometers, amendments } = bundle;
  const head = { sheet, method, people, microscope, trains, calibrations, stageMicrometers, amendments };
  const names = Object.entries(head).map(
    ([name, value]) => `${JSON.stringify(name)}:${JSON.stringify(value)}`,
  );
  await out.add(`{${names.join(",\n")},\n"rows":[`);
  let separator = "\n";
  for await (const row of rowsWithProgress(bundle, progress)) {
    digest.add(row);
    await out.add(separator + JSON.stringify(row));
    separator = ",\n";
  }
  for (const line of amendments) digest.add(line);
  const dataSha256 = digest.hex();
  await out.add(`],\n"dataSha256":${JSON.stringify(dataSha256)},\n`);
  await writeHistory(out, bundle);
  return dataSha256;
}

/** Holds the written file against the digests that were made while it was written. */
async function checkDocument(path: string, digests: readonly string[]): Promise<void> {
  let found = 0;
  let rest = "";
  for await (const piece of createReadStream(path, "utf8")) {
    const text = rest + String(piece);
    found += digests.filter(
      (digest) => text.includes(`"dataSha256":"${digest}"`) && !rest.includes(digest),
    ).length;
    rest = text.slice(-100);
  }
  if (found < digests.length) throw new Error("The file was cut off while it was written.");
}

/**
 * Writes sheets with all they rest on as one JSON file, whole or not at all; rows go by one at a time.
 * @throws Error of the file system, or when it is stopped
 */
export async function writeJson(
  bundles: readonly SheetBundle[],
  path: string,
  progress: Progress,
): Promise<WrittenFile> {
  const digests: string[] = [];
  const first = bundles[0];
  if (first === undefined) throw new RangeError("A file needs at least one sheet.");
  const bytes = await writeFileWhole(
    path,
    async (stream) => {
      const out = textStream(stream);
      const head = {
        format: SHEET_DOCUMENT_FORMAT,
        version: SHEET_DOCUMENT_VERSION,
        program: first.program,
        madeAt: first.asOf,
        trailHead: first.bench?.trailHead ?? null,
        headSigned: first.bench?.headSigned ?? null,
      };
      await out.add(`${JSON.stringify(head).slice(0, -1)},\n"sheets":[\n`);
      for (const bundle of bundles) {
        if (digests.length > 0) await out.add(",\n");
        digests.push(await writeSheet(out, bundle, progress));
      }
      await out.add("\n]}\n");
      await out.flush();
    },
    (temporary) => checkDocument(temporary, digests),
  );
  return { bytes, dataSha256: jointDigest(digests) };
}

/** A sheet of a document as everything else in the program takes it. */
export function bundleOfDocument(document: SheetDocument, sheet: DocumentSheet): SheetBundle {
  const { rows, dataSha256: _, historySha256: __, verdictsSha256: ___, earlier, ...records } = sheet;
  return {
    ...records,
    rows: () => rows,
    earlier: { ...earlier, results: () => earlier.results },
    bench: null,
    program: document.program,
    asOf: document.madeAt,
  };
}

/** The digest of a sheet's records as they stand in a document. */
export function digestOfDocument(document: SheetDocument, sheet: DocumentSheet): string {
  const digest = openDigest(bundleOfDocument(document, sheet));
  for (const row of sheet.rows) digest.add(row);
  for (const line of sheet.amendments) digest.add(line);
  return digest.hex();
}
