import type { MethodDefinition } from "../contract/records/method.ts";
import { classify, wordsOf } from "../methods/class-table.ts";
import { grainSizeNumber, grainSizeSensitivity } from "../methods/grain-size.ts";
import { POLLEN_SHAPE_CLASSES } from "../methods/pollen-shape-classes.ts";
import { DEFAULT_SPORE_STRING, sporeString } from "../methods/spore-string.ts";
import { type Decimal, decimal, ONE } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { formatToPlaces } from "../quantity/rounding.ts";
import { mean, memberAt, sorted, standardDeviation } from "../statistics/sample.ts";
import { particleReport } from "./particle-report.ts";

/** One object of a label: its sizes in µm by dimension; absent where not measured. */
export type ReportedObject = Readonly<Record<string, Decimal | undefined>>;

type Definition = Pick<MethodDefinition, "dimensions" | "percentiles" | "report" | "rounding">;

/** `32.1 ± 2.3 (28.0–36.5)`: mean, s with n − 1, least and largest. One value alone has no s. */
function meanAndRange(values: readonly Decimal[], places: number, { rounding }: Definition): string {
  const shown = (value: Decimal): string => formatToPlaces(value, places, rounding);
  const rising = sorted(values);
  const spread = values.length < 2 ? "" : ` ± ${shown(standardDeviation(values))}`;
  const range = `${shown(memberAt(rising, 0))}–${shown(memberAt(rising, rising.length - 1))}`;
  return `${shown(mean(values))}${spread} (${range})`;
}

function plainReport(objects: readonly ReportedObject[], definition: Definition): string | null {
  const parts = definition.dimensions.flatMap(({ key, name }) => {
    const values = objects.flatMap((object) => object[key] ?? []);
    if (values.length === 0) return [];
    return [`${name} ${meanAndRange(values, definition.report.places, definition)} µm, n = ${values.length}`];
  });
  return parts.length === 0 ? null : parts.join("; ");
}

/** Objects with both of the first two dimensions, which the pair notations need. */
function pairsOf(objects: readonly ReportedObject[], definition: Definition): [Decimal, Decimal][] {
  const [first, second] = definition.dimensions;
  if (!first || !second) return [];
  return objects.flatMap((object): [Decimal, Decimal][] => {
    const a = object[first.key];
    const b = object[second.key];
    return a?.greaterThan(0) && b?.greaterThan(0) ? [[a, b]] : [];
  });
}

function sporeReport(objects: readonly ReportedObject[], definition: Definition): string | null {
  const spores = pairsOf(objects, definition).map(([length, width]) => ({ length, width }));
  if (spores.length === 0) return null;
  const { percentiles, report, rounding } = definition;
  const percent = (field: "lower" | "upper"): number =>
    readDecimal(`percentiles.${field}`, percentiles[field]).value.toNumber();
  return sporeString(spores, {
    ...DEFAULT_SPORE_STRING,
    lowerPercentile: percent("lower"),
    upperPercentile: percent("upper"),
    percentileType: percentiles.type,
    places: report.places,
    quotientPlaces: report.ratioPlaces,
    rounding,
  });
}

/** P and E as mean ± s (range), P/E as the mean of the ratios with its class; mean ± s (range): common practice, no source. */
function pollenReport(objects: readonly ReportedObject[], definition: Definition): string | null {
  const pairs = pairsOf(objects, definition);
  if (pairs.length === 0) return null;
  const { places, ratioPlaces } = definition.report;
  const ratios = pairs.map(([p, e]) => p.div(e));
  const shape = wordsOf(classify(mean(ratios), POLLEN_SHAPE_CLASSES));
  const p = meanAndRange(
    pairs.map(([polar]) => polar),
    places,
    definition,
  );
  const e = meanAndRange(
    pairs.map(([, equatorial]) => equatorial),
    places,
    definition,
  );
  return `P ${p} µm, E ${e} µm, P/E ${meanAndRange(ratios, ratioPlaces, definition)}, ${shape}, n = ${pairs.length}`;
}

/** Of the first dimension of the method; sizes that are not above zero are no particles. */
function sizesOfParticles(objects: readonly ReportedObject[], definition: Definition): string | null {
  const [first] = definition.dimensions;
  if (!first) return null;
  const diameters = objects.flatMap(({ [first.key]: size }) => (size?.greaterThan(0) ? [size] : []));
  return diameters.length === 0 ? null : particleReport(first.name, diameters, definition);
}

/** `G 6.64 ± 0.18; Intercept, mean 32.0 ± 2.0 µm, n = 400`, from the mean of the first dimension; with U where it is known. */
function grainReport(
  objects: readonly ReportedObject[],
  definition: Definition,
  expanded: Decimal | null,
): string | null {
  const [first] = definition.dimensions;
  const values = objects.flatMap((object) => object[first?.key ?? ""] ?? []);
  if (!first || values.length === 0) return null;
  const intercept = mean(values);
  if (!intercept.greaterThan(0)) return null;
  const { report, rounding } = definition;
  const shown = (value: Decimal, places: number): string => formatToPlaces(value, places, rounding);
  const plusMinus = (of: Decimal, places: number): string =>
    expanded === null ? "" : ` ± ${shown(of.times(expanded), places)}`;
  const inMm = intercept.div(1000);
  const perUm = grainSizeSensitivity(inMm).abs().div(1000);
  return (
    `G ${shown(grainSizeNumber(inMm), report.ratioPlaces)}${plusMinus(perUm, report.ratioPlaces)}; ` +
    `${first.name}, mean ${shown(intercept, report.places)}${plusMinus(ONE, report.places)} µm, n = ${values.length}`
  );
}

/**
 * The report string of one label, as the method wants it. The pair notations take the first two dimensions of the method:
 * length and width, polar axis and equatorial diameter.
 * @param objects the objects that count: not struck, in any order
 * @param expanded U of the mean of the first dimension, µm, where it is known; a grain size number is given with it
 * @returns null when the method reports none or nothing is measured
 * @throws InputError `percentiles.lower` or `percentiles.upper` for percentiles that cannot be read
 */
export function reportString(
  objects: readonly ReportedObject[],
  definition: Definition,
  expanded: Decimal | null = null,
): string | null {
  switch (definition.report.kind) {
    case "none":
      return null;
    case "mean and range":
      return plainReport(objects, definition);
    case "spore notation":
      return sporeReport(objects, definition);
    case "pollen P and E":
      return pollenReport(objects, definition);
    case "particle sizes":
      return sizesOfParticles(objects, definition);
    case "grain size number":
      return grainReport(objects, definition, expanded);
  }
}

/** Sizes of one row as the report needs them. */
export function reportedObject(row: {
  readonly measurements: readonly {
    readonly dimension: string;
    readonly size: { readonly value: string } | null;
  }[];
}): ReportedObject {
  return Object.fromEntries(
    row.measurements.flatMap(({ dimension, size }) => (size ? [[dimension, decimal(size.value)]] : [])),
  );
}
