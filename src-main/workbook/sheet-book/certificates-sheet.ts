import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { BookWriter } from "../spreadsheet/book-writer.ts";
import { type Cell, date, EMPTY, formula, number, text } from "../spreadsheet/cell.ts";
import { openSheet, type SheetWriter } from "../spreadsheet/sheet-writer.ts";
import { CERTIFICATE_LABELS as L } from "../words/field-labels.ts";
import type { WorkbookJob } from "./job.ts";

const CERTIFIED_LINE_HEADINGS = [
  "Certified lines",
  "nominal (µm)",
  "certified − nominal (µm)",
  "certified (µm)",
  "nominal as typed",
  "second column as typed",
  "U of the line (µm)",
] as const;

const WIDTHS = [22, 13, 15, 11, 13, 13, 10];
const LAST = 6;

function writeCertificate(
  sheet: SheetWriter,
  micrometer: StageMicrometer,
  certificate: Certificate,
  used: string,
): void {
  const line = (what: string, cell: Cell): void => sheet.spread([text(what, "field"), cell], 2, LAST);
  const measured = (what: string, value: string, unit: string): void =>
    sheet.row([text(what, "field"), number(value, "plain"), text(unit)]);
  sheet.skip();
  sheet.row([text(`Certificate ${certificate.number}`, "heading")]);
  line(L.usedBy, text(used));
  line(L.stageMicrometer, text(`${micrometer.name}, no. ${micrometer.serial}`));
  measured(L.scale, micrometer.scaleLengthUm, "µm");
  measured(L.divisions, String(micrometer.divisions), "");
  line(L.glass, text(micrometer.substrate));
  if (micrometer.cover) line(L.cover, text(micrometer.cover));
  if (micrometer.keptAt) line(L.keptAt, text(micrometer.keptAt));
  line(L.laboratory, text(certificate.laboratory));
  line(L.accreditation, text(certificate.accreditation));
  line(L.calibratedOn, date(certificate.calibratedOn));
  line(L.dueOn, date(certificate.dueOn));
  line(L.dueReason, text(certificate.dueReason, "wrapped"));
  measured(L.temperature, certificate.temperature, "°C");
  measured(L.U, certificate.expandedUncertainty, "µm");
  if (certificate.uncertaintyPerMm) measured(L.perMm, certificate.uncertaintyPerMm, "µm per mm");
  measured(L.k, certificate.coverageFactor, "");
  if (certificate.degreesOfFreedom) measured(L.nu, certificate.degreesOfFreedom, "");
  line(L.secondColumn, text(certificate.sign));
  const isByLine = certificate.lines.some((one) => one.expandedUncertainty !== undefined);
  const headings = isByLine ? CERTIFIED_LINE_HEADINGS : CERTIFIED_LINE_HEADINGS.slice(0, -1);
  sheet.row(headings.map((header) => text(header, "column")));
  certificate.lines.forEach((position, index) => {
    const at = sheet.nextRow;
    sheet.row([
      number(index, "whole"),
      number(position.nominal, "plain"),
      number(position.error, "plain"),
      formula(`B${at}+C${at}`, Number(position.nominal) + Number(position.error), "plain"),
      text(position.typedNominal),
      text(position.typedValue),
      ...(isByLine
        ? [position.expandedUncertainty ? number(position.expandedUncertainty, "plain") : EMPTY]
        : []),
    ]);
  });
}

/** The certified tables that the calibrations of this sheet rest on. */
export async function writeCertificatesSheet(workbook: BookWriter, job: WorkbookJob): Promise<void> {
  const sheet = openSheet(
    workbook,
    {
      name: job.names.worksheets.certificates,
      widths: WIDTHS,
      frozenRows: 1,
      frozenColumns: 0,
      titleRows: "1:1",
      landscape: false,
      footer: job.trace,
      programLine: job.programLine,
    },
    job,
  );
  sheet.row([text(L.title, "title")]);
  for (const micrometer of job.bundle.stageMicrometers) {
    for (const certificate of micrometer.certificates) {
      const users = job.lookups.calibrations.filter((one) => one.certificate?.id === certificate.id);
      if (users.length === 0) continue;
      const used = users.map((one) => `Calibration ${one.number}`).join(", ");
      writeCertificate(sheet, micrometer, certificate, used);
    }
  }
  await sheet.finish();
}
