import { z } from "zod";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type {
  ReportAmendment,
  ReportSecondReading,
  ReportSignOff,
  SheetReport,
} from "#core/contract/records/exchange.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { printedNumber } from "#core/quantity/printed-number.ts";
import { formatToPlaces } from "#core/quantity/rounding.ts";
import type { WorkbookJob } from "../workbook/sheet-book/job.ts";

/** Amendments listed one by one; the total says how many there are. */
const MOST_AMENDMENTS_LISTED = 100;

/** Three significant digits, as a window shows the agreement of two readings. */
const small = (value: string): string => printedNumber(decimal(value).toSignificantDigits(3).toFixed());
const micrometres = (value: string | null): string =>
  value === null ? "no size" : `${printedNumber(formatToPlaces(decimal(value), 2))} µm`;

export function signOffsOf({ bundle, lookups }: WorkbookJob): ReportSignOff[] {
  const rowsSha256 = bundle.bench?.rowsSha256 ?? "";
  return bundle.signOffs
    .map(({ kind, at, by, words, dataSha256, ended, pinReset }) => ({
      kind,
      at,
      by: lookups.person(by),
      words,
      rowsSha256: dataSha256,
      isPresent: ended === null && dataSha256 === rowsSha256,
      ended: ended === null ? null : { at: ended.at, by: lookups.person(ended.by), reason: ended.reason },
      pinReset: pinReset ? { at: pinReset.at, voucher: lookups.person(pinReset.voucher) } : null,
    }))
    .toReversed();
}

export function secondReadingsOf({ bundle, lookups }: WorkbookJob): ReportSecondReading[] {
  const nameOf = (key: string): string =>
    bundle.method.definition.dimensions.find((one) => one.key === key)?.name ?? key;
  return (bundle.bench?.secondReadings ?? []).map((one) => ({
    number: one.number,
    reader: lookups.person(one.reader),
    sameReader: one.sameReader,
    startedAt: one.startedAt,
    closedAt: one.closedAt,
    rows: one.rowCount,
    drawn: one.choice.kind !== "rows",
    agreement: (one.report?.dimensions ?? []).map(({ dimension, n, bias, limits, technicalError }) => ({
      name: nameOf(dimension),
      n,
      bias: small(bias),
      limits: `${small(limits.lower)} to ${small(limits.upper)}`,
      technicalError: small(technicalError),
    })),
  }));
}

/** What the trail tells of a corrected reading, as much of it as the report says. */
const Amended = z.object({
  dimension: z.string(),
  edge: z.enum(["left", "right", "direct"]),
  from: z.string().nullable(),
  to: z.string(),
  size: z.object({ from: z.string().nullable(), to: z.string().nullable() }).nullish(),
});
const Resized = z.object({
  size: z
    .array(z.object({ dimension: z.string(), from: z.string().nullable(), to: z.string().nullable() }))
    .optional(),
});
const Followed = z.object({ results: z.number() });
const EDGE_WORDS = { left: "left edge", right: "right edge", direct: "divisions" } as const;

function detailOf<T>(schema: z.ZodType<T>, line: TrailLine): T | null {
  const parsed = schema.safeParse(JSON.parse(line.detail));
  return parsed.success ? parsed.data : null;
}

function amendedWords(line: TrailLine, row: string, nameOf: (key: string) => string): string {
  const detail = detailOf(Amended, line);
  if (detail === null) return `${row}: a reading corrected`;
  const size =
    detail.size && detail.size.from !== detail.size.to
      ? `; size ${micrometres(detail.size.from)} → ${micrometres(detail.size.to)}`
      : "";
  return `${row}, ${nameOf(detail.dimension)}, ${EDGE_WORDS[detail.edge]}: ${detail.from ?? "empty"} → ${detail.to} div${size}`;
}

function objectiveWords(line: TrailLine, row: string, nameOf: (key: string) => string): string {
  const sizes = (detailOf(Resized, line)?.size ?? []).map(
    ({ dimension, from, to }) => `${nameOf(dimension)} ${micrometres(from)} → ${micrometres(to)}`,
  );
  return [`${row}: measured with another objective`, ...sizes].join("; ");
}

const Corrected = z.object({ field: z.string(), before: z.string(), after: z.string() });

function correctedWords(line: TrailLine): string {
  const detail = detailOf(Corrected, line);
  if (detail === null) return "A word of the sheet corrected";
  const { field, before, after } = detail;
  return `${field.charAt(0).toUpperCase()}${field.slice(1)} corrected: ${before || "empty"} → ${after || "empty"}`;
}

function flagsWords(line: TrailLine): string {
  const count = detailOf(Followed, line)?.results ?? 0;
  return `${countedNoun(count, "result")}: the flag “check before use” as if a check since withdrawn had not been made`;
}

/** Results converted again, counted per act, factor before and factor after. */
function reevaluationsOf(job: WorkbookJob): ReportAmendment[] {
  const { bundle, lookups } = job;
  const groups = new Map<string, { readonly line: TrailLine; readonly words: string; count: number }>();
  const factorOf = (id: string | null): string => {
    const numbered = id === null ? null : lookups.calibration(id);
    const record: CalibrationRecord | undefined =
      numbered?.record ?? bundle.earlier.calibrations.find((one) => one.id === id);
    const factor = record?.result ? `${printedNumber(record.result.shownFactor)} µm/div` : "no factor";
    return numbered ? `Calibration ${numbered.number} (${factor})` : factor;
  };
  const Swap = z.object({
    calibrationId: z.object({ from: z.string().nullable(), to: z.string().nullable() }),
  });
  for (const { line } of bundle.reevaluated?.() ?? []) {
    const swap = detailOf(Swap, line)?.calibrationId ?? { from: null, to: null };
    const key = JSON.stringify([line.reason, line.personId, swap]);
    const known = groups.get(key);
    if (known) known.count += 1;
    else {
      const words = `converted again with ${factorOf(swap.to)} in place of ${factorOf(swap.from)}`;
      groups.set(key, { line, words, count: 1 });
    }
  }
  return [...groups.values()].map(({ line, words, count }) => ({
    at: line.at,
    by: lookups.person(line.personId),
    what: `${countedNoun(count, "result")} ${words}`,
    reason: line.reason ?? "",
  }));
}

/** Changes of readings and of what they were converted with; labels, notes and struck rows are told elsewhere. */
export function amendmentsOf(job: WorkbookJob): Pick<SheetReport, "amendments" | "amendmentsTotal"> {
  const { bundle, lookups, survey } = job;
  const nameOf = (key: string): string =>
    bundle.method.definition.dimensions.find((one) => one.key === key)?.name ?? key;
  const amended = bundle.amendments.flatMap((line): ReportAmendment[] => {
    const ordinal = survey.ordinals.get(line.subjectId);
    const row = ordinal === undefined ? "A row that was taken back" : `Row ${ordinal}`;
    const about = { at: line.at, by: lookups.person(line.personId), reason: line.reason ?? "" };
    if (line.act === "rows.amend") return [{ ...about, what: amendedWords(line, row, nameOf) }];
    if (line.act === "sheets.flagsFollowed") return [{ ...about, what: flagsWords(line) }];
    if (line.act === "records.correct") return [{ ...about, what: correctedWords(line) }];
    if (line.act === "rows.changeObjective") return [{ ...about, what: objectiveWords(line, row, nameOf) }];
    return [];
  });
  const all = [...amended, ...reevaluationsOf(job)].sort((one, other) => (one.at < other.at ? -1 : 1));
  return { amendments: all.slice(0, MOST_AMENDMENTS_LISTED), amendmentsTotal: all.length };
}
