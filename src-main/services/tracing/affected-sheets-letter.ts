import type { LaboratorySettings } from "#core/contract/records/laboratory.ts";
import type { AffectedSheetsLetter, ForwardTrace, TouchedSheet } from "#core/contract/records/trace.ts";
import { TRAIL_HEAD_LABEL, type TrailHead } from "#core/contract/records/trail.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { decimal } from "#core/quantity/decimal.ts";

/** A spreadsheet reads µ and accents only where the file says that it is UTF-8. */
const BYTE_ORDER_MARK = "\uFEFF";

/** One field by RFC 4180, 2.5 to 2.7; text that a spreadsheet would take for a formula stays text. */
function field(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) && !/^-?\d+(\.\d+)?$/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** `+0.40 %`, three figures; empty without a replacement. */
function percent(change: string | null): string {
  if (change === null) return "";
  const value = decimal(change).times(100);
  return `${value.greaterThan(0) ? "+" : ""}${value.toSignificantDigits(3).toFixed()} %`;
}

const HEADINGS = [
  "Sheet",
  "Sample",
  "Opened on",
  "First affected reading",
  "Last affected reading",
  "Rows",
  "Results",
  "Largest change",
  "State",
];

function line({
  sheet,
  rows,
  results,
  firstAt,
  lastAt,
  largestRelativeChange,
  signOff,
}: TouchedSheet): string[] {
  return [
    sheet.number,
    sheet.sample,
    sheet.openedAt.slice(0, 10),
    firstAt.slice(0, 10),
    lastAt.slice(0, 10),
    String(rows),
    String(results),
    percent(largestRelativeChange),
    signOff,
  ];
}

function listed(sheet: TouchedSheet): string {
  const [number, sample, opened, first, last, rows, results, change, state] = line(sheet);
  const size = change === "" ? "" : `, change up to ${change}`;
  return `${number}  ${sample} (opened ${opened}): ${countedNoun(Number(rows), "row")}, ${countedNoun(Number(results), "result")} read ${first} to ${last}${size}; ${state}`;
}

function windowWords({ scope }: ForwardTrace): string {
  if (scope.from === null && scope.to === null) return "at any time";
  if (scope.to === null) return `since ${scope.from}`;
  if (scope.from === null) return `up to ${scope.to}`;
  return `from ${scope.from} to ${scope.to}`;
}

function paragraph(trace: ForwardTrace): string {
  const { counts, subjectName, replacementName } = trace;
  if (counts.sheets === 0) return `No result rests on the ${subjectName}, measured ${windowWords(trace)}.`;
  const effect =
    replacementName === null
      ? "Whether and by how much these results change has not been worked out."
      : `The change given is that of the size when the ${replacementName} takes its place; all results of one calibration change in the same proportion.`;
  const signed =
    counts.signedSheets === 0 ? "None of them is signed." : `${counts.signedSheets} of them signed.`;
  return `The following ${counts.sheets === 1 ? "sheet holds" : `${counts.sheets} sheets hold`} results that rest on the ${subjectName}, measured ${windowWords(trace)}: ${countedNoun(counts.rows, "row")}, ${countedNoun(counts.results, "result")}. ${signed} ${effect}`;
}

/** The sheets a doubt touches, as text for a letter and as a table by RFC 4180. */
export function affectedSheetsLetter(
  trace: ForwardTrace,
  laboratory: LaboratorySettings,
  programVersion: string,
  trailHead: TrailHead | null,
): AffectedSheetsLetter {
  const date = trace.asOf.slice(0, 10);
  const title = `Sheets affected by the ${trace.subjectName}`;
  const head = [laboratory.name, laboratory.address, date].filter((one) => one.trim() !== "");
  const text = [
    ...head,
    "",
    title,
    "",
    paragraph(trace),
    "",
    ...trace.sheets.map(listed),
    "",
    `Listed by Linefall ${programVersion} from the records of the bench.`,
    ...(trailHead === null ? [] : [`${TRAIL_HEAD_LABEL} ${trailHead}`]),
    "",
  ].join("\n");
  const rows = [HEADINGS, ...trace.sheets.map(line)].map((cells) => cells.map(field).join(","));
  return {
    title,
    text,
    csv: `${BYTE_ORDER_MARK}${rows.join("\r\n")}\r\n`,
    fileName: `affected-sheets-${date}.csv`,
  };
}
