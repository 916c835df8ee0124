import { type Decimal, decimal } from "../../quantity/decimal.ts";
import { InputError, requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import {
  productOf,
  quotientOf,
  type RelativeComponent,
  relativeUncertaintyOf,
  scaledBy,
  type UncertainProduct,
} from "../../quantity/uncertain-product.ts";

/** A fibre count on a filter and its blank. Halves are allowed. */
export interface FibreCount {
  readonly fibres: Decimal;
  readonly fields: number;
  readonly blankFibres: Decimal;
  /** 0 when no blank was counted. */
  readonly blankFields: number;
}

export interface FibreDensity {
  /** F/n − B/n_b, fibres per field; may be zero or negative. */
  readonly netPerField: Decimal;
  /** E, fibres/mm². */
  readonly loading: Decimal;
  /** E as a product with its doubts by source; null when the net count is not above zero. */
  readonly product: UncertainProduct | null;
  /** Fibres/mm² of the limit of detection, 5.5 fibres in 100 fields. */
  readonly detectionLimit: Decimal;
  readonly belowDetection: boolean;
}

/** Limit of detection of the method, fibres in 100 fields. NIOSH 7400 issue 2 (1994). */
export const DETECTION_FIBRES_PER_100_FIELDS: Decimal = decimal("5.5");

function requireFieldCount(field: string, fields: number, least: number): void {
  if (!Number.isSafeInteger(fields) || fields < least) {
    throw new InputError(field, `must be a whole number, ${least} or more`);
  }
}

/** 5.5 fibres in 100 fields as a loading, fibres/mm²: about 7 for the nominal field. */
export function detectionLoading(fieldArea: UncertainProduct): Decimal {
  return DETECTION_FIBRES_PER_100_FIELDS.div(requirePositive("fieldArea", fieldArea.value).times(100));
}

/**
 * Standard uncertainty of the fibres counted, in fibres: √F, or √n·s by the scatter between fields. `older` is the rule of
 * counts closed by earlier versions, √F always and in one with the blank.
 */
export interface FibreScatter {
  readonly standard: Decimal;
  readonly older: boolean;
}

function countComponents(count: FibreCount, net: Decimal, scatter: FibreScatter): RelativeComponent[] {
  const blankFields = Math.max(1, count.blankFields);
  const ofBlank = count.blankFibres.sqrt().div(blankFields);
  const ofCount = (scatter.older ? count.fibres.sqrt() : scatter.standard).div(count.fields);
  if (scatter.older) {
    const both = ofCount.pow(2).plus(ofBlank.pow(2)).sqrt();
    return [{ key: "count", name: "count of fibres and blank", relative: both.div(net) }];
  }
  const own = { key: "count", name: "count of fibres", relative: ofCount.div(net) };
  if (ofBlank.isZero()) return [own];
  return [own, { key: "blank", name: "count of the blank", relative: ofBlank.div(net) }];
}

/**
 * Fibre loading E = (F/n − B/n_b)/A_f, fibres/mm². NIOSH 7400, calculations; from memory. The doubt of the count is
 * that of its evidence, the doubt of the blank √B; the method adds a subjective part of the laboratory's own, which is not
 * known here.
 * @throws InputError when a count is negative or there is no field
 */
export function fibreLoading(
  count: FibreCount,
  fieldArea: UncertainProduct,
  scatter: FibreScatter = { standard: count.fibres.sqrt(), older: false },
): FibreDensity {
  requireNotNegative("fibres", count.fibres);
  requireNotNegative("blankFibres", count.blankFibres);
  requireFieldCount("fields", count.fields, 1);
  requireFieldCount("blankFields", count.blankFields, 0);
  if (count.blankFields === 0 && !count.blankFibres.isZero()) {
    throw new InputError("blankFields", "must be 1 or more when blank fibres were counted");
  }
  const blankFields = Math.max(1, count.blankFields);
  const netPerField = count.fibres.div(count.fields).minus(count.blankFibres.div(blankFields));
  const loading = netPerField.div(requirePositive("fieldArea", fieldArea.value));
  const detectionLimit = detectionLoading(fieldArea);
  const base = { netPerField, loading, detectionLimit, belowDetection: loading.lessThan(detectionLimit) };
  if (!netPerField.greaterThan(0)) return { ...base, product: null };
  const counted: UncertainProduct = {
    value: netPerField,
    unit: "fibres/field",
    components: countComponents(count, netPerField, scatter),
  };
  return { ...base, product: quotientOf(counted, fieldArea, "fibres/mm²") };
}

export interface FibreConcentration {
  /** Fibres/cc (= fibres/mL) of air. */
  readonly value: Decimal;
  /** u_c/value from count, area, filter and air volume; null when the net count is not above zero. */
  readonly relative: Decimal | null;
  readonly product: UncertainProduct | null;
}

/**
 * C = E·A_c/(V·10³), fibres/cc. NIOSH 7400, calculations; from memory.
 * @param effectiveArea A_c, mm²
 * @param airVolume V, L
 */
export function fibreConcentration(
  density: FibreDensity,
  effectiveArea: UncertainProduct,
  airVolume: UncertainProduct,
): FibreConcentration {
  const value = loadingAsConcentration(density.loading, effectiveArea.value, airVolume.value);
  if (!density.product) return { value, relative: null, product: null };
  const collected = productOf(density.product, effectiveArea, "fibres");
  const product = scaledBy(quotientOf(collected, airVolume, ""), "0.001", "fibres/cc");
  return { value, relative: relativeUncertaintyOf(product), product };
}

/** A loading, fibres/mm², as a concentration, fibres/cc: E·A_c/(V·10³). */
export function loadingAsConcentration(
  loading: Decimal,
  effectiveArea: Decimal,
  airLitres: Decimal,
): Decimal {
  requirePositive("effectiveArea", effectiveArea);
  requirePositive("airVolume", airLitres);
  return loading.times(effectiveArea).div(airLitres.times(1000));
}

/**
 * Minutes of sampling for a wanted loading: t = A_c·E/(Q·L·10³). NIOSH 7400, sampling; from memory.
 * @param flow Q, L/min
 * @param concentration L, fibres/cc expected
 */
export function samplingMinutes(
  loading: Decimal,
  effectiveArea: Decimal,
  flow: Decimal,
  concentration: Decimal,
): Decimal {
  requirePositive("loading", loading);
  requirePositive("effectiveArea", effectiveArea);
  requirePositive("flow", flow);
  requirePositive("concentration", concentration);
  return effectiveArea.times(loading).div(flow.times(concentration).times(1000));
}
