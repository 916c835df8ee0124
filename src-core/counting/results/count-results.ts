import type {
  CountCategory,
  CountInputs,
  CountMethodDefinition,
} from "../../contract/records/count-method.ts";
import { INPUT_KEYS } from "../../contract/records/count-method.ts";
import type { CategoryResult, CountResults, DensityRecord } from "../../contract/records/count-results.ts";
import { classify, wordsOf } from "../../methods/class-table.ts";
import { decimal } from "../../quantity/decimal.ts";
import { readDecimal, textOfDecimal } from "../../quantity/decimal-text.ts";
import { InputError } from "../../quantity/input-error.ts";
import { COUNT_RULE_OF_TODAY, type CountRule } from "../../vocabulary/counting.ts";
import type { AreaFactor } from "../areas/counting-area.ts";
import { type DensityFrame, densityRecord } from "../densities/density-record.ts";
import { besideMarker } from "../densities/marker-count.ts";
import { nameOfInput } from "../inputs/count-inputs.ts";
import { countsByFields, fieldArea } from "../inputs/field-area.ts";
import { type FieldCounts, keysOfKind, objectsIn, objectsInAll } from "../inputs/field-counts.ts";
import { betweenFieldInterval } from "../intervals/between-field-interval.ts";
import { roundStable } from "../intervals/count-checks.ts";
import { type CountEvidence, evidenceOfFields, evidenceOfTotal } from "../intervals/count-evidence.ts";
import { fieldsNeeded, objectsStillNeeded } from "../intervals/counting-effort.ts";
import { type DispersionResult, dispersionTest } from "../intervals/dispersion-test.ts";
import { garwoodInterval, shortcutPrecision } from "../intervals/poisson-interval.ts";
import { proportionInterval } from "../intervals/proportion-interval.ts";
import { shareBesideSum } from "../intervals/share-of-sum.ts";
import { skewedLimits } from "../intervals/skewed-fields.ts";
import { categoriesAtWork } from "../lists/categories-at-work.ts";
import { countCautions } from "./count-cautions.ts";
import { factorPowerOf, perObjectOf } from "./count-per-object.ts";
import { fibreRecords } from "./fibre-records.ts";
import { stoppingOfTaxa } from "./stopping-of-taxa.ts";
import { stoppingState } from "./stopping-progress.ts";
import { sumResults } from "./sum-results.ts";

/** Everything a count's results follow from. */
export interface CountData {
  readonly definition: CountMethodDefinition;
  readonly categories: readonly CountCategory[];
  readonly inputs: CountInputs;
  /** The frozen factor; null when none was in force or none is needed. */
  readonly factor: AreaFactor | null;
  /** Every field in order, the one in hand last. */
  readonly fields: readonly FieldCounts[];
  /** True when the last field was counted to its end. */
  readonly lastFieldCounted: boolean;
  readonly seconds: number;
  /** What stood in the way of the train. */
  readonly trainCautions?: readonly string[];
  /** Left out: the rule of today. Verify gives that of the frozen results. */
  readonly countRule?: CountRule;
}

const DEFAULT_PRECISION = 0.1;

/** Precision wanted, a fraction. */
export function wantedPrecision(definition: CountMethodDefinition): number {
  const typed = definition.wantedPrecision.trim();
  return typed === "" ? DEFAULT_PRECISION : readDecimal("wantedPrecision", typed).value.toNumber();
}

function ruleOf({ countRule = COUNT_RULE_OF_TODAY }: CountData): CountRule {
  return countRule;
}

interface Counted {
  /** Fields counted to their end. */
  readonly done: readonly FieldCounts[];
  /** Fields whose objects are part of total and shares: all of them, unless the area of each field matters. */
  readonly all: readonly FieldCounts[];
  readonly objects: readonly string[];
  readonly perField: readonly number[];
  readonly total: number;
  readonly marker: number;
  readonly inHand: number;
  readonly byFields: boolean;
}

function countedOf(data: CountData): Counted {
  const { definition, categories, fields, lastFieldCounted } = data;
  const byFields = countsByFields(definition);
  const done = lastFieldCounted ? fields : fields.slice(0, -1);
  const all = byFields ? done : fields;
  const objects = keysOfKind(categories, "object");
  const markers = keysOfKind(categories, "marker");
  const sum = (keys: readonly string[]) => objectsInAll(all, keys);
  const last = fields.at(-1);
  return {
    done,
    all,
    objects,
    perField: done.map((field) => objectsIn(field, objects)),
    total: sum(objects),
    marker: sum(markers),
    inHand: last && !lastFieldCounted ? objectsIn(last, objects) : 0,
    byFields,
  };
}

/** Evidence of a total: with its fields where they enter the density, else of the total alone. */
function evidenceOf(counted: Counted, keys: readonly string[], rule: CountRule): CountEvidence {
  const counts = counted.all.map((field) => objectsIn(field, keys));
  if (counted.byFields && counts.length > 0) return evidenceOfFields(counts, 0.95, rule);
  return evidenceOfTotal(objectsInAll(counted.all, keys));
}

function shareOf(count: number, total: number, definition: CountMethodDefinition): CategoryResult["share"] {
  if (total === 0) return null;
  const { proportion, lower, upper } = proportionInterval(count, total);
  const percent = decimal(count).times(100).div(decimal(total));
  return {
    proportion: roundStable(proportion),
    lower: roundStable(lower),
    upper: roundStable(upper),
    class: definition.shareClasses ? wordsOf(classify(percent, definition.shareClasses)) : null,
  };
}

/** What is counted beside the total against it, with the limits of a ratio of two counts. */
function shareBeside(count: number, total: number): CategoryResult["share"] {
  if (total === 0) return null;
  const { proportion, lower, upper } = shareBesideSum(count, total);
  return {
    proportion: roundStable(proportion),
    lower: roundStable(lower),
    upper: roundStable(upper),
    class: null,
  };
}

function categoryResults(data: CountData, counted: Counted): CategoryResult[] {
  const { definition } = data;
  return categoriesAtWork(data.categories, data.fields).map(({ key, name, kind, reported }) => {
    const count = objectsInAll(counted.all, [key]);
    const presses = counted.all.reduce((sum, field) => sum + (field.presses[key] ?? 0), 0);
    return {
      category: key,
      name,
      kind,
      count: textOfDecimal(decimal(count)),
      presses,
      share:
        kind === "object"
          ? shareOf(count, counted.total, definition)
          : reported
            ? shareBeside(count, counted.total)
            : null,
    };
  });
}

function sumsOf(data: CountData, counted: Counted): Pick<CountResults, "sums"> {
  const sums = sumResults(categoriesAtWork(data.categories, data.fields), (key) =>
    objectsInAll(counted.all, [key]),
  );
  return sums.length === 0 ? {} : { sums };
}

type Densities = Pick<CountResults, "densities" | "missing"> & { readonly warning: string | null };

function densitiesOf(data: CountData, counted: Counted): Densities {
  const { definition, inputs, factor } = data;
  const frame: DensityFrame = {
    definition,
    factor,
    factorPower: factorPowerOf(definition),
    countRule: ruleOf(data),
  };
  const fields = counted.done.length;
  if (definition.density.kind === "fibres") {
    const evidence = evidenceOf(counted, counted.objects, frame.countRule);
    return { densities: fibreRecords(evidence, fields, inputs, frame), missing: null, warning: null };
  }
  const perObject = perObjectOf({ definition, inputs, factor, fields, marker: counted.marker });
  if (!perObject) return { densities: [], missing: null, warning: null };
  const besideMarkers = definition.density.kind === "marker" && frame.countRule === "skewed-limits";
  const recordOf = (of: string, keys: readonly string[]): DensityRecord => {
    const evidence = evidenceOf(counted, keys, frame.countRule);
    const whole = besideMarkers ? besideMarker(evidence, counted.marker) : evidence;
    return densityRecord(of, whole, perObject.product, frame);
  };
  const densities = [recordOf("total", counted.objects)];
  const atWork = categoriesAtWork(data.categories, data.fields);
  const reported = atWork.filter(({ kind, reported: too }) => kind === "object" || too);
  if (counted.objects.length > 1 || reported.some(({ kind }) => kind !== "object")) {
    for (const { key } of reported) densities.push(recordOf(key, [key]));
  }
  return { densities, missing: null, warning: perObject.warning };
}

const NEEDS_A_FIELD =
  "No field has been counted to its end yet: press the new-field key when the first one is done.";

function wordsOfMissing({ field, reason }: InputError): string {
  if (field === "factor") {
    return "No factor is frozen for this count: calibrate the train, then save the inputs of this count again.";
  }
  const key = INPUT_KEYS.find((one) => one === field);
  const name = key ? nameOfInput(key) : field === "markerCounted" ? "count of marker spores" : field;
  return `There is no density yet: ${name} ${reason}.`;
}

function densitiesOrWhy(data: CountData, counted: Counted): Densities {
  const wanted = data.definition.density.kind !== "none";
  const usesFields = counted.byFields || data.definition.density.kind === "fibres";
  if (wanted && usesFields && counted.done.length === 0) {
    return { densities: [], missing: NEEDS_A_FIELD, warning: null };
  }
  try {
    return densitiesOf(data, counted);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { densities: [], missing: wordsOfMissing(error), warning: null };
  }
}

function areaOf({ definition, inputs, factor }: CountData): CountResults["fieldArea"] {
  const { kind } = definition.area;
  if (kind === "whole" || kind === "none" || kind === "strip" || kind === "chamber-square") return null;
  try {
    return textOfDecimal(fieldArea(definition, inputs, factor).value);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

function interval(lower: number, upper: number, total: number): CountResults["poisson"] {
  const relative = total === 0 ? null : roundStable((upper - lower) / 2 / total);
  return { lower: roundStable(lower), upper: roundStable(upper), relative };
}

function dispersionRecord(result: DispersionResult): NonNullable<CountResults["dispersion"]> {
  const { fields, degreesOfFreedom, by, verdict, meaning } = result;
  const orNull = (value: number | null) => (value === null ? null : roundStable(value));
  return {
    fields,
    mean: roundStable(result.mean),
    variance: roundStable(result.variance),
    ratio: orNull(result.ratio),
    index: orNull(result.index),
    degreesOfFreedom,
    twoSidedP: orNull(result.twoSidedP),
    expectedLower: roundStable(result.expectedLower),
    expectedUpper: roundStable(result.expectedUpper),
    by,
    verdict,
    meaning,
  };
}

/** By the rule of today stretched where the fields differ more than chance allows; ± is then not said of them. */
function betweenFieldsOf(
  perField: readonly number[],
  dispersion: DispersionResult | null,
  rule: CountRule,
): CountResults["betweenFields"] {
  if (dispersion === null) return null;
  const { lower, upper, halfWidth, relativeHalfWidth } = betweenFieldInterval(perField);
  const { fields: n, total, ratio } = dispersion;
  const plain = { lower: lower * n, upper: upper * n };
  const isSkewed = rule === "skewed-limits" && ratio !== null && ratio > 1;
  const limits = isSkewed ? skewedLimits(total, n, halfWidth * n, plain) : plain;
  const stretched = limits.upper > plain.upper;
  return {
    lower: roundStable(limits.lower),
    upper: roundStable(limits.upper),
    relative: relativeHalfWidth === null || stretched ? null : roundStable(relativeHalfWidth),
  };
}

function stoppingOf(data: CountData, counted: Counted): CountResults["stopping"] {
  const { rule } = data.definition.stopping;
  const ofTaxa = stoppingOfTaxa(data.categories, (key) => objectsInAll(data.fields, [key]));
  if (!rule) {
    return ofTaxa ?? { met: false, words: "No stopping rule: stop when you judge it enough.", missing: [] };
  }
  const byClass: Record<string, number> = {};
  for (const key of counted.objects) {
    byClass[key] = objectsInAll(data.fields, [key]);
  }
  const markers = keysOfKind(data.categories, "marker");
  const { met, words, missing } = stoppingState(rule, {
    byClass,
    marker: objectsInAll(data.fields, markers),
    fields: counted.perField,
    minutes: Math.floor(data.seconds / 60),
    countRule: ruleOf(data),
  });
  if (!ofTaxa) return { met, words, missing: [...missing] };
  return {
    met: met && ofTaxa.met,
    words: `${words} and ${ofTaxa.words}`,
    missing: [...missing, ...ofTaxa.missing],
  };
}

function stillNeededOf({ definition }: CountData, counted: Counted): CountResults["stillNeeded"] {
  const precision = wantedPrecision(definition);
  const objects = objectsStillNeeded(counted.total + (counted.byFields ? counted.inHand : 0), precision);
  const fields = counted.perField.length < 2 ? null : fieldsNeeded(counted.perField, precision);
  return { precision, objects, fields: fields?.stillNeeded ?? null };
}

/**
 * Everything a count says: totals, shares, densities with U, both intervals, the dispersion test, the stopping rule and
 * what is still needed. The screen uses it on running totals, the service at close, verify afterwards.
 * @throws InputError when the method's own data make no sense; missing inputs are told in `missing`
 */
export function countResults(data: CountData): CountResults {
  const counted = countedOf(data);
  const found = densitiesOrWhy(data, counted);
  const { densities, missing } = found;
  const { total, perField } = counted;
  const garwood = garwoodInterval(total);
  const dispersion = perField.length < 2 ? null : dispersionTest(perField);
  const shortcut = shortcutPrecision(total).relativeHalfWidth;
  const rule = ruleOf(data);
  return {
    ...(rule === "clustered-only" ? {} : { countRule: rule }),
    total: textOfDecimal(decimal(total)),
    marker: textOfDecimal(decimal(counted.marker)),
    fields: counted.done.length,
    inHand: textOfDecimal(decimal(counted.inHand)),
    categories: categoryResults(data, counted),
    ...sumsOf(data, counted),
    densities,
    missing,
    fieldArea: areaOf(data),
    poisson: interval(garwood.lower, garwood.upper, total),
    betweenFields: betweenFieldsOf(perField, dispersion, rule),
    poissonSuppressed: dispersion?.verdict === "clustered",
    shortcut: shortcut === null ? null : roundStable(shortcut),
    dispersion: dispersion ? dispersionRecord(dispersion) : null,
    stopping: stoppingOf(data, counted),
    stillNeeded: stillNeededOf(data, counted),
    cautions: countCautions({ ...data, ...counted, ...found, dispersion, countRule: rule }),
  };
}
