import type { z } from "zod";
import { linesFromTable } from "#core/calibration/certificate-table.ts";
import type { CertifiedLine } from "#core/calibration/certified-scale.ts";
import { type Certificate, NewCertificate, STATED_U } from "#core/contract/records/stage-micrometer.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { CertificateSign } from "#core/vocabulary/calibration.ts";
import { problemsBySchema, problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";

export interface LineTyped {
  readonly nominal: string;
  readonly value: string;
  /** U of the line, where the certificate states it for each. */
  readonly expandedUncertainty?: string;
}

export const STATED_UNCERTAINTIES = ["interval", "length", "lines"] as const;
/** How a certificate states U: of every interval, as a + b·L, or of each line. */
export type StatedUncertainty = (typeof STATED_UNCERTAINTIES)[number];

export interface CertificateTyped {
  readonly number: string;
  readonly laboratory: string;
  readonly accreditation: string;
  readonly calibratedOn: string;
  readonly dueOn: string;
  readonly dueReason: string;
  readonly temperature: string;
  /** Empty until the person has answered. */
  readonly sign: CertificateSign | "";
  readonly lines: readonly LineTyped[];
  readonly stated: StatedUncertainty;
  readonly expandedUncertainty: string;
  readonly uncertaintyPerMm: string;
  readonly coverageFactor: string;
  readonly degreesOfFreedom: string;
  /** The table typed a second time without sight of the first; null: not done. */
  readonly second: readonly LineTyped[] | null;
  /** Why a corrected certificate takes the place of another; empty for a new one. */
  readonly reason: string;
}

export const EMPTY_LINE: LineTyped = { nominal: "", value: "", expandedUncertainty: "" };

export const EMPTY_CERTIFICATE: CertificateTyped = {
  number: "",
  laboratory: "",
  accreditation: "",
  calibratedOn: "",
  dueOn: "",
  dueReason: "",
  temperature: "",
  sign: "",
  lines: [EMPTY_LINE, EMPTY_LINE],
  stated: "interval",
  expandedUncertainty: "",
  uncertaintyPerMm: "",
  coverageFactor: "",
  degreesOfFreedom: "",
  second: null,
  reason: "",
};

/** What nearly every certificate says stands there to be compared with this one: 20 °C (ISO 1:2016, from memory) and k = 2. */
export const NEW_CERTIFICATE: CertificateTyped = {
  ...EMPTY_CERTIFICATE,
  temperature: "20",
  coverageFactor: "2",
};

/** The form of a corrected certificate: as the one it corrects, but for the number on its paper and the reason. */
export function asCorrected(certificate: Certificate): CertificateTyped {
  const { laboratory, accreditation, calibratedOn, dueOn, dueReason, sign, lines } = certificate;
  const { temperature, expandedUncertainty, coverageFactor } = certificate;
  const { uncertaintyPerMm = "", degreesOfFreedom = "" } = certificate;
  const byLine = lines.some((line) => line.expandedUncertainty !== undefined);
  return {
    ...EMPTY_CERTIFICATE,
    ...{ laboratory, accreditation, calibratedOn, dueOn, dueReason, sign },
    stated: byLine ? "lines" : uncertaintyPerMm === "" ? "interval" : "length",
    ...{ temperature, uncertaintyPerMm, coverageFactor, degreesOfFreedom },
    expandedUncertainty: byLine ? "" : expandedUncertainty,
    lines: lines.map((line) => ({
      nominal: line.typedNominal,
      value: line.typedValue,
      expandedUncertainty: line.expandedUncertainty ?? "",
    })),
  };
}

/** Rows in which nothing was typed are no rows. */
export function filledLines(lines: readonly LineTyped[]): readonly LineTyped[] {
  return lines.filter((line) => line.nominal.trim() !== "" || line.value.trim() !== "");
}

export function certificateInput(
  stageMicrometerId: string,
  typed: CertificateTyped,
): z.input<typeof NewCertificate> {
  const {
    second: _second,
    reason: _reason,
    stated,
    uncertaintyPerMm,
    degreesOfFreedom,
    ...certificate
  } = typed;
  return {
    ...certificate,
    ...(stated === "length" ? { uncertaintyPerMm } : {}),
    ...(degreesOfFreedom.trim() === "" ? {} : { degreesOfFreedom }),
    stageMicrometerId,
    sign: typed.sign as CertificateSign,
    expandedUncertainty: stated === "lines" ? "" : typed.expandedUncertainty,
    lines: filledLines(typed.lines).map(({ nominal, value, expandedUncertainty = "" }) =>
      stated === "lines" ? { nominal, value, expandedUncertainty } : { nominal, value },
    ),
  };
}

/**
 * The certified lines as typed so far, read by `sign`.
 * @throws InputError at `lines.N.nominal` or `lines.N.value`
 */
export function certifiedLines(sign: CertificateSign, lines: readonly LineTyped[]): readonly CertifiedLine[] {
  return linesFromTable(
    sign,
    lines.map((line, index) => ({
      nominal: readDecimal(`lines.${index}.nominal`, line.nominal).value,
      value: readDecimal(`lines.${index}.value`, line.value).value,
    })),
  );
}

function lineProblems(typed: CertificateTyped): FieldErrors {
  const filled = filledLines(typed.lines);
  // Problems name the row as it stands in the form, where empty rows may lie between.
  const rowOf = filled.map((line) => typed.lines.indexOf(line));
  const at = (path: string): string =>
    path.replace(/^lines\.(\d+)/, (_, index: string) => `lines.${rowOf[Number(index)] ?? index}`);
  if (filled.length < 2) {
    const empty = typed.lines.findIndex((line) => line.nominal.trim() === "");
    return { [`lines.${Math.max(0, empty)}.nominal`]: "is empty: at least two certified lines are needed" };
  }
  if (typed.sign === "") return {};
  try {
    certifiedLines(typed.sign, filled);
    return lineUncertaintyProblems(typed, filled, at);
  } catch (error) {
    if (error instanceof InputError) return { [at(error.field)]: error.reason };
    throw error;
  }
}

function lineUncertaintyProblems(
  { stated }: CertificateTyped,
  filled: readonly LineTyped[],
  at: (path: string) => string,
): FieldErrors {
  if (stated !== "lines") return {};
  return problemsOfNumbers(
    filled.flatMap(({ expandedUncertainty: typedU = "" }, index) =>
      index === 0 && typedU.trim() === ""
        ? []
        : [[at(`lines.${index}.expandedUncertainty`), typedU, STATED_U] as const],
    ),
  );
}

export function certificateProblems(stageMicrometerId: string, typed: CertificateTyped): FieldErrors {
  const {
    sign: _sign,
    lines: _lines,
    ...schema
  } = problemsBySchema(NewCertificate, certificateInput(stageMicrometerId, typed));
  return {
    ...schema,
    // What the way of stating U asks for must be there.
    ...problemsOfNumbers([
      ...(typed.stated === "lines"
        ? []
        : [["expandedUncertainty", typed.expandedUncertainty, STATED_U] as const]),
      ...(typed.stated === "length" ? [["uncertaintyPerMm", typed.uncertaintyPerMm, STATED_U] as const] : []),
    ]),
    ...(typed.sign === "" ? { sign: "needs an answer: look at the certificate's table" } : {}),
    ...lineProblems(typed),
    ...(typed.second && slips(typed.lines, typed.second).length > 0
      ? { second: "The two entries of the table differ: look at the certificate and settle each line" }
      : {}),
  };
}

/** Lays pasted rows over the table from `row` and `column`: marked, certified value, U of the line. */
export function withPastedLines(
  lines: readonly LineTyped[],
  row: number,
  column: number,
  cells: readonly (readonly string[])[],
): readonly LineTyped[] {
  const result = [...lines];
  cells.forEach((cell, index) => {
    const before = result[row + index] ?? EMPTY_LINE;
    const keys = (["nominal", "value", "expandedUncertainty"] as const).slice(column);
    const pasted = Object.fromEntries(
      keys.flatMap((key, at) => (cell[at] === undefined ? [] : [[key, cell[at]]])),
    );
    result[row + index] = { ...before, ...pasted };
  });
  return result;
}

/** A line that was typed in two ways. */
export interface Slip {
  /** Place in the table, from 0. */
  readonly row: number;
  readonly key: "nominal" | "value";
  readonly texts: readonly [string, string];
}

/** Two typed numbers mean the same: `0.20` and `0,2`. */
function sameNumber(one: string, other: string): boolean {
  if (one.trim() === other.trim()) return true;
  try {
    return readDecimal("one", one).value.equals(readDecimal("other", other).value);
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

/** Where two entries of a table differ; neither is taken for the right one. */
export function slips(first: readonly LineTyped[], second: readonly LineTyped[]): readonly Slip[] {
  const rows = Math.max(filledLines(first).length, filledLines(second).length);
  return Array.from({ length: rows }, (_, row) => row).flatMap((row) => {
    const one = filledLines(first)[row] ?? EMPTY_LINE;
    const other = filledLines(second)[row] ?? EMPTY_LINE;
    return (["nominal", "value"] as const).flatMap((key): Slip[] =>
      sameNumber(one[key], other[key])
        ? []
        : [{ row, key, texts: [one[key], other[key]].sort() as [string, string] }],
    );
  });
}

/** Both tables with one cell as it stands on the certificate. */
export function withSettled(typed: CertificateTyped, { row, key }: Slip, text: string): CertificateTyped {
  const settle = (lines: readonly LineTyped[]): readonly LineTyped[] => {
    const filled = filledLines(lines);
    return [...filled, ...(row < filled.length ? [] : [EMPTY_LINE])].map((line, at) =>
      at === row ? { ...line, [key]: text } : line,
    );
  };
  return { ...typed, lines: settle(typed.lines), second: settle(typed.second ?? []) };
}
