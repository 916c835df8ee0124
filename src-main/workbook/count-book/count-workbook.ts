import type { Writable } from "node:stream";
import type { Paper } from "#core/contract/records/exchange.ts";
import { TRAIL_HEAD_LABEL } from "#core/contract/records/trail.ts";
import { HEAD_SIGNED_LABEL } from "#core/contract/records/trail-signature.ts";
import { storedAct } from "#core/contract/stored-names.ts";
import { NO_PROGRESS, type Progress } from "../../long-work/progress.ts";
import type { WrittenFile } from "../sheet-book/workbook.ts";
import { BookWriter } from "../spreadsheet/book-writer.ts";
import { instant, number, text, type WorkbookKind } from "../spreadsheet/cell.ts";
import { openSheet } from "../spreadsheet/sheet-writer.ts";
import { writeFileWhole } from "../spreadsheet/write-file.ts";
import { checkZip } from "../spreadsheet/zip-check.ts";
import { ABOUT_FIELDS, AMENDMENT_HEADINGS, KIND_WORDS } from "../words/headings.ts";
import { hasBiovolumes } from "./count-biovolume-report.ts";
import { writeCountBiovolumes } from "./count-biovolume-sheet.ts";
import type { CountBundle } from "./count-bundle-type.ts";
import { writeCountDensities } from "./count-densities-sheet.ts";
import { COUNT_DIGEST_RECIPE, countDigest } from "./count-digest.ts";
import { writeCountFields } from "./count-fields-sheet.ts";
import { COUNT_WORKSHEETS, type CountJob, countJob } from "./count-job.ts";
import { writeCountResults } from "./count-results-sheet.ts";
import { writeCountSequence } from "./count-sequence-sheet.ts";

const PLAIN = { frozenRows: 1, titleRows: "1:1", landscape: true } as const;

/** The trail's lines about this count but the anchors of its fields, which Sequence tells better. */
async function writeCountAmendments(workbook: BookWriter, job: CountJob): Promise<void> {
  const { line, at, by, act, reason, changed, hash } = AMENDMENT_HEADINGS;
  const sheet = openSheet(
    workbook,
    {
      ...PLAIN,
      name: COUNT_WORKSHEETS.amendments,
      widths: [10, 19, 20, 24, 34, 60, 66],
      frozenColumns: 1,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row([line, at, by, act, reason, changed, hash].map((heading) => text(heading, "column")));
  for (const entry of job.bundle.trail) {
    if (entry.act === storedAct("counts.newField")) continue;
    await sheet.longRow([
      number(entry.sequence, "whole"),
      instant(entry.at),
      text(job.person(entry.personId)),
      text(entry.act),
      text(entry.reason ?? "", "wrapped"),
      text(entry.detail, "text"),
      text(entry.hash),
    ]);
  }
  await sheet.finish();
}

const HOW_TO_READ = [
  "Change an objects cell on Fields, an input or the factor on Densities: counts, shares, densities and U follow.",
  "“As exported” holds what the program froze or printed; it stays when a cell is changed.",
  "Sequence holds every press in order. A struck press stays in it and is part of no count; the hash of each line covers the line before.",
  "The limits are those of the count alone; U also holds area, volume and dilution, the factor once with its power.",
] as const;

async function writeCountAbout(workbook: BookWriter, job: CountJob): Promise<void> {
  const { bundle } = job;
  const sheet = openSheet(
    workbook,
    {
      ...PLAIN,
      landscape: false,
      name: COUNT_WORKSHEETS.about,
      widths: [26, 74],
      frozenColumns: 0,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row([text(`About this workbook of ${bundle.count.number}`, "title")]);
  sheet.row([text(ABOUT_FIELDS.program, "field"), text(job.programLine)]);
  sheet.row([text(ABOUT_FIELDS.madeAt, "field"), instant(bundle.asOf)]);
  sheet.row([text(ABOUT_FIELDS.kind, "field"), text(KIND_WORDS[job.kind])]);
  sheet.row([text(ABOUT_FIELDS.paper, "field"), text(job.paper)]);
  sheet.row([text("Count id", "field"), text(bundle.count.id)]);
  sheet.row([text(ABOUT_FIELDS.data, "field"), text(job.dataSha256)]);
  sheet.row([text("How it is made", "field"), text(COUNT_DIGEST_RECIPE, "wrapped")]);
  sheet.row([
    text("Rounding", "field"),
    text("U to two significant digits, the value to the same place, half to even", "wrapped"),
  ]);
  if (job.kind === "live")
    for (const line of HOW_TO_READ) sheet.row([text("How to read it", "field"), text(line, "wrapped")]);
  for (const caution of [
    ...bundle.results.cautions,
    ...bundle.unproven,
    ...bundle.overdue,
    ...bundle.statedReturns,
  ]) {
    sheet.row([text("Caution", "field"), text(caution, "caution")]);
  }
  if (bundle.trailHead !== null) {
    sheet.row([text(TRAIL_HEAD_LABEL, "field"), text(bundle.trailHead, "wrapped")]);
  }
  if (bundle.headSigned !== null) {
    sheet.row([text(HEAD_SIGNED_LABEL, "field"), text(bundle.headSigned, "wrapped")]);
  }
  await sheet.finish();
}

/** The writer of each worksheet, in their order in the workbook. */
const WRITERS: Readonly<
  Record<keyof typeof COUNT_WORKSHEETS, (workbook: BookWriter, job: CountJob) => Promise<void>>
> = {
  results: writeCountResults,
  densities: writeCountDensities,
  biovolume: writeCountBiovolumes,
  fields: writeCountFields,
  sequence: writeCountSequence,
  amendments: writeCountAmendments,
  about: writeCountAbout,
};

async function fill(stream: Writable, job: CountJob): Promise<void> {
  const createdAt = new Date(job.bundle.asOf);
  const workbook = new BookWriter(stream, { creator: job.programLine, createdAt });
  for (const name of worksheetsOf(job)) await WRITERS[name](workbook, job);
  await workbook.commit();
}

type WorksheetName = keyof typeof COUNT_WORKSHEETS;

/** The worksheets of a count in their order: Biovolume only where cell volumes were given. */
function worksheetsOf(job: CountJob): readonly WorksheetName[] {
  const names = Object.keys(WRITERS) as WorksheetName[];
  return names.filter((name) => name !== "biovolume" || hasBiovolumes(job));
}

/** The file of Sequence: worksheets are numbered as they are written. */
function sequencePart(job: CountJob): string {
  return `xl/worksheets/sheet${worksheetsOf(job).indexOf("sequence") + 1}.xml`;
}

/** Every event must be found again in the written file. */
async function check(path: string, job: CountJob): Promise<void> {
  const parts = await checkZip(path, "<row ");
  const lines = parts.find((part) => part.name === sequencePart(job))?.hits ?? 0;
  const expected = job.bundle.count.lastSequence + 1;
  if (lines === expected) return;
  throw new Error(`The workbook was written with ${lines} lines on Sequence instead of ${expected}.`);
}

/**
 * Writes the workbook of one count so that under `path` there is either the earlier file or the whole new one.
 * @throws Error of the file system, when it is stopped, or when what was read back differs
 */
export async function writeCountWorkbook(
  bundle: CountBundle,
  options: { readonly kind: WorkbookKind; readonly paper?: Paper; readonly progress?: Progress },
  path: string,
): Promise<WrittenFile> {
  const { kind, paper = "A4", progress = NO_PROGRESS } = options;
  const dataSha256 = await countDigest(bundle, progress);
  const job = countJob(bundle, { kind, paper, progress }, dataSha256);
  const bytes = await writeFileWhole(
    path,
    (stream) => fill(stream, job),
    (temporary) => check(temporary, job),
  );
  return { bytes, dataSha256 };
}
