import type { FactorRecord } from "#core/contract/records/calibration.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { type NumberRule, problemOfNumber } from "#core/quantity/number-rule.ts";
import { reportWithUncertainty } from "#core/quantity/rounding.ts";
import type { Uncertainty } from "#core/uncertainty/uncertainty.ts";

/** A calibrated train, as far as a calculation asks for it. */
export interface BenchTrain {
  readonly id: string;
  readonly name: string;
  readonly factor: FactorRecord;
  readonly magnification: string;
  readonly numericalAperture: string | null;
  readonly intermediate: string;
  /** Empty where the eyepiece has none. */
  readonly fieldNumber: string;
  readonly scaleLengthMm: string;
  readonly divisions: number;
}

export interface CalculatorField {
  readonly key: string;
  readonly label: string;
  readonly unit?: string;
  readonly hint?: string;
  readonly rule?: NumberRule;
  /** What stands in the field until something is typed; empty where it is to be typed. */
  readonly usual?: string | ((train: BenchTrain | null) => string);
}

/** What a calculation gives: its name, and the value with its unit and U. */
export type Outcome = readonly [name: string, value: string];

/** A small calculation of the bench: what it asks for, what follows, and where it comes from. */
export interface Calculator {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly caution?: string;
  /** Whether a factor is needed, may fill in fields, or has no part in it. */
  readonly train: "needed" | "helps" | "none";
  readonly fields: readonly CalculatorField[];
  /**
   * @param value a field as a number; @param train never null where it is needed
   * @throws InputError naming the field
   */
  readonly work: (value: (key: string) => Decimal, train: BenchTrain | null) => readonly Outcome[];
}

/** What stands in a field: as typed, else its usual value. */
export function textOfField(
  { key, usual = "" }: CalculatorField,
  typed: Readonly<Record<string, string>>,
  train: BenchTrain | null,
): string {
  return typed[key] ?? (typeof usual === "string" ? usual : usual(train));
}

export interface Worked {
  /** Null while something is still to be typed or cannot be taken. */
  readonly outcomes: readonly Outcome[] | null;
  /** By field; under the empty name what is wrong with the whole. */
  readonly problems: Readonly<Record<string, string>>;
}

/** Works a calculation out from what stands in its fields; an empty field is no problem yet. */
export function workOut(
  { fields, work, train: needs }: Calculator,
  typed: Readonly<Record<string, string>>,
  train: BenchTrain | null,
): Worked {
  const texts = new Map(fields.map((field) => [field.key, textOfField(field, typed, train)]));
  const problems: Record<string, string> = {};
  for (const { key, rule } of fields) {
    const text = texts.get(key) ?? "";
    const problem = text.trim() === "" ? null : problemOfNumber(text, rule ?? { sign: "positive" });
    if (problem) problems[key] = problem;
  }
  const isMissing = fields.some(({ key, rule }) => !rule?.optional && texts.get(key)?.trim() === "");
  if (isMissing || Object.keys(problems).length > 0 || (needs === "needed" && train === null)) {
    return { outcomes: null, problems };
  }
  try {
    const value = (key: string): Decimal => readDecimal(key, texts.get(key) ?? "").value;
    return { outcomes: work(value, train), problems };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const field = fields.some(({ key }) => key === error.field) ? error.field : "";
    return { outcomes: null, problems: { [field]: error.reason } };
  }
}

/** `25.31 ± 0.42 µm`: U to two significant digits, the value to the same place (JCGM 100:2008 7.2.6). */
export function withU(value: Decimal, uncertainty: Pick<Uncertainty, "expanded">, unit: string): string {
  const shown = reportWithUncertainty(value, uncertainty.expanded, "half-even");
  return `${shown.value} ± ${shown.uncertainty} ${unit}`.trim();
}

/** u(f)/f of a train's factor and its ν. */
export function relativeFactor({ factor }: BenchTrain): {
  readonly relative: Decimal;
  readonly degreesOfFreedom: Decimal | null;
} {
  const { standardUncertainty, degreesOfFreedom } = factor;
  return {
    relative: decimal(standardUncertainty).div(factor.factor),
    degreesOfFreedom: degreesOfFreedom === null ? null : decimal(degreesOfFreedom),
  };
}
