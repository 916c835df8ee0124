import type { Writable } from "node:stream";
import type { Paper } from "#core/contract/records/exchange.ts";
import { TRAIL_HEAD_LABEL } from "#core/contract/records/trail.ts";
import { type Pace, UNHURRIED } from "../../pace/pace.ts";
import type { WrittenFile } from "../sheet-book/workbook.ts";
import { BookWriter } from "../spreadsheet/book-writer.ts";
import { instant, number, text, type WorkbookKind } from "../spreadsheet/cell.ts";
import { openSheet } from "../spreadsheet/sheet-writer.ts";
import { writeFileWhole } from "../spreadsheet/write-file.ts";
import { checkZip } from "../spreadsheet/zip-check.ts";
import { ABOUT_FIELDS, AMENDMENT_HEADINGS, KIND_WORDS } from "../words/headings.ts";
import type { TallyBundle } from "./tally-bundle-type.ts";
import { writeTallyDensities } from "./tally-densities-sheet.ts";
import { TALLY_DIGEST_RECIPE, tallyDigest } from "./tally-digest.ts";
import { writeTallyFields } from "./tally-fields-sheet.ts";
import { TALLY_WORKSHEETS, type TallyJob, tallyJob } from "./tally-job.ts";
import { writeTallyResults } from "./tally-results-sheet.ts";
import { writeTallySequence } from "./tally-sequence-sheet.ts";

const PLAIN = { frozenRows: 1, titleRows: "1:1", landscape: true } as const;

/** The trail's lines about this count but the anchors of its fields, which Sequence tells better. */
async function writeTallyAmendments(workbook: BookWriter, job: TallyJob): Promise<void> {
  const { line, at, by, act, reason, changed, hash } = AMENDMENT_HEADINGS;
  const sheet = openSheet(
    workbook,
    {
      ...PLAIN,
      name: TALLY_WORKSHEETS.amendments,
      widths: [10, 19, 20, 24, 34, 60, 66],
      frozenColumns: 1,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row([line, at, by, act, reason, changed, hash].map((heading) => text(heading, "column")));
  for (const entry of job.bundle.trail) {
    if (entry.act === "tallies.newField") continue;
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

async function writeTallyAbout(workbook: BookWriter, job: TallyJob): Promise<void> {
  const { bundle } = job;
  const sheet = openSheet(
    workbook,
    {
      ...PLAIN,
      landscape: false,
      name: TALLY_WORKSHEETS.about,
      widths: [26, 74],
      frozenColumns: 0,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row([text(`About this workbook of ${bundle.tally.number}`, "title")]);
  sheet.row([text(ABOUT_FIELDS.program, "field"), text(job.programLine)]);
  sheet.row([text(ABOUT_FIELDS.madeAt, "field"), instant(bundle.asOf)]);
  sheet.row([text(ABOUT_FIELDS.kind, "field"), text(KIND_WORDS[job.kind])]);
  sheet.row([text(ABOUT_FIELDS.paper, "field"), text(job.paper)]);
  sheet.row([text("Count id", "field"), text(bundle.tally.id)]);
  sheet.row([text(ABOUT_FIELDS.data, "field"), text(job.dataSha256)]);
  sheet.row([text("How it is made", "field"), text(TALLY_DIGEST_RECIPE, "wrapped")]);
  sheet.row([
    text("Rounding", "field"),
    text("U to two significant digits, the value to the same place, half to even", "wrapped"),
  ]);
  if (job.kind === "live")
    for (const line of HOW_TO_READ) sheet.row([text("How to read it", "field"), text(line, "wrapped")]);
  for (const caution of bundle.results.cautions) {
    sheet.row([text("Caution", "field"), text(caution, "caution")]);
  }
  if (bundle.trailHead !== null) {
    sheet.row([text(TRAIL_HEAD_LABEL, "field"), text(bundle.trailHead, "wrapped")]);
  }
  await sheet.finish();
}

async function fill(stream: Writable, job: TallyJob): Promise<void> {
  const createdAt = new Date(job.bundle.asOf);
  const workbook = new BookWriter(stream, { creator: job.programLine, createdAt });
  await writeTallyResults(workbook, job);
  await writeTallyDensities(workbook, job);
  await writeTallyFields(workbook, job);
  await writeTallySequence(workbook, job);
  await writeTallyAmendments(workbook, job);
  await writeTallyAbout(workbook, job);
  await workbook.commit();
}

const SEQUENCE_PART = `xl/worksheets/sheet${Object.values(TALLY_WORKSHEETS).indexOf(TALLY_WORKSHEETS.sequence) + 1}.xml`;

/** Every event must be found again in the written file. */
async function check(path: string, job: TallyJob): Promise<void> {
  const parts = await checkZip(path, "<row ");
  const lines = parts.find((part) => part.name === SEQUENCE_PART)?.hits ?? 0;
  const expected = job.bundle.tally.lastSequence + 1;
  if (lines === expected) return;
  throw new Error(`The workbook was written with ${lines} lines on Sequence instead of ${expected}.`);
}

/**
 * Writes the workbook of one count so that under `path` there is either the earlier file or the whole new one.
 * @throws Error of the file system, when it is stopped, or when what was read back differs
 */
export async function writeTallyWorkbook(
  bundle: TallyBundle,
  options: { readonly kind: WorkbookKind; readonly paper?: Paper; readonly pace?: Pace },
  path: string,
): Promise<WrittenFile> {
  const { kind, paper = "A4", pace = UNHURRIED } = options;
  const dataSha256 = await tallyDigest(bundle, pace);
  const job = tallyJob(bundle, { kind, paper, pace }, dataSha256);
  const bytes = await writeFileWhole(
    path,
    (stream) => fill(stream, job),
    (temporary) => check(temporary, job),
  );
  return { bytes, dataSha256 };
}
