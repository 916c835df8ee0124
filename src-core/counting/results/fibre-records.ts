import type { CountInputs } from "../../contract/records/count-method.ts";
import type { DensityRecord } from "../../contract/records/count-results.ts";
import { type Decimal, decimal, ONE, ZERO } from "../../quantity/decimal.ts";
import { textOfDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import { reportWithUncertainty } from "../../quantity/rounding.ts";
import { relativeVarianceOf, type UncertainProduct } from "../../quantity/uncertain-product.ts";
import { coverageOf } from "../densities/density.ts";
import {
  componentRecords,
  coverageRuleOf,
  type DensityFrame,
  degreesOfRecord,
  densityClass,
  factorOfRecord,
  mayBeSkewed,
} from "../densities/density-record.ts";
import { fibreConcentration, fibreLoading } from "../densities/fibre-density.ts";
import { valueWords } from "../densities/reported-density.ts";
import { filterOf } from "../inputs/count-choices.ts";
import { optionalInput } from "../inputs/count-inputs.ts";
import { fieldArea } from "../inputs/field-area.ts";
import { roundStable } from "../intervals/count-checks.ts";
import type { CountEvidence } from "../intervals/count-evidence.ts";
import { airVolumeOf, effectiveAreaOf } from "./count-per-object.ts";

function blankOf(inputs: CountInputs): { blankFibres: Decimal; blankFields: number } {
  const fields = optionalInput(inputs, "blankFields") ?? ZERO;
  if (!fields.isInteger()) throw new InputError("blankFields", "must be a whole number");
  return { blankFibres: optionalInput(inputs, "blankCount") ?? ZERO, blankFields: fields.toNumber() };
}

interface FibreRow {
  readonly unit: string;
  readonly value: Decimal;
  readonly product: UncertainProduct | null;
  /** What the limits are made with: value = (objects/n − blank)·scale. */
  readonly scale: Decimal;
  readonly detection: Decimal;
}

interface FibreLimits {
  readonly lower: Decimal;
  readonly upper: Decimal;
  readonly coverageFactor: Decimal;
}

function shownOf(
  row: FibreRow,
  expanded: Decimal | null,
  limits: FibreLimits,
  frame: DensityFrame,
  evidence: CountEvidence,
): Pick<DensityRecord, "shown" | "lessThan"> {
  if (expanded === null || row.value.lessThan(row.detection)) {
    const limit = row.detection.toSignificantDigits(2, 0).toFixed();
    return {
      shown: `< ${limit} ${row.unit} (5.5 fibres in 100 fields)`,
      lessThan: textOfDecimal(row.detection),
    };
  }
  if (frame.countRule === "clustered-only") {
    const { value, uncertainty } = reportWithUncertainty(row.value, expanded, "half-even");
    return { shown: `${value} ± ${uncertainty} ${row.unit} (k = 2, count and area)`, lessThan: null };
  }
  const { text } = valueWords({ ...row, ...limits, expanded }, "half-even", mayBeSkewed(evidence, frame));
  return { shown: `${text}, count and area`, lessThan: null };
}

/**
 * Loading E and concentration C of a fibre count with its blank, as frozen. NIOSH 7400, calculations; from memory. The
 * uncertainty is that of count, area, filter and air alone: the subjective part is the laboratory's own.
 * @throws InputError when the air volume or the area is missing
 */
export function fibreRecords(
  evidence: CountEvidence,
  fields: number,
  inputs: CountInputs,
  frame: DensityFrame,
): DensityRecord[] {
  const { density } = frame.definition;
  if (density.kind !== "fibres") throw new Error("not a fibre method");
  const area = fieldArea(frame.definition, inputs, frame.factor);
  const { blankFibres, blankFields } = blankOf(inputs);
  const loading = fibreLoading({ fibres: decimal(evidence.total), fields, blankFibres, blankFields }, area, {
    standard: decimal(evidence.standard),
    older: frame.countRule === "clustered-only",
  });
  const effective = effectiveAreaOf(filterOf(density.filter).effectiveArea);
  const air = airVolumeOf(inputs);
  const concentration = fibreConcentration(loading, effective, air);
  const perLoading = effective.value.div(air.value.times(1000));
  const blank = blankFibres.div(Math.max(1, blankFields));
  const scale = ONE.div(area.value);
  const rows: FibreRow[] = [
    {
      unit: "fibres/mm²",
      value: loading.loading,
      product: loading.product,
      scale,
      detection: loading.detectionLimit,
    },
    {
      unit: "fibres/cc",
      value: concentration.value,
      product: concentration.product,
      scale: scale.times(perLoading),
      detection: loading.detectionLimit.times(perLoading),
    },
  ];
  const limit = (objects: number, by: Decimal): Decimal => {
    const net = decimal(roundStable(objects)).div(fields).minus(blank);
    return (net.lessThan(0) ? ZERO : net).times(by);
  };
  const rule = coverageRuleOf(frame);
  return rows.map((row) => {
    const variance = row.product ? relativeVarianceOf(row.product) : null;
    const relative = variance?.sqrt() ?? null;
    const coverageFactor = coverageOf(row.product?.components ?? [], evidence.degreesOfFreedom, rule);
    const expanded = relative ? relative.times(row.value).times(coverageFactor) : null;
    const lower = limit(evidence.lower, row.scale);
    const upper = limit(evidence.upper, row.scale);
    const components = (row.product?.components ?? []).map((one) => ({
      ...one,
      share: variance?.greaterThan(0) ? one.relative.pow(2).div(variance) : ZERO,
    }));
    return {
      of: "total",
      unit: row.unit,
      value: textOfDecimal(row.value),
      perObject: textOfDecimal(row.scale.div(fields)),
      lower: textOfDecimal(lower),
      upper: textOfDecimal(upper),
      relative: relative ? textOfDecimal(relative) : null,
      expanded: expanded ? textOfDecimal(expanded) : null,
      coverageFactor: textOfDecimal(coverageFactor),
      basis: evidence.basis,
      ...degreesOfRecord(evidence, frame),
      components: componentRecords(components),
      factor: factorOfRecord(frame),
      ...shownOf(row, expanded, { lower, upper, coverageFactor }, frame, evidence),
      class: densityClass(frame, row.value),
    };
  });
}
