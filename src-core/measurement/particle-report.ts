import type { MethodDefinition } from "../contract/records/method.ts";
import { type Decimal, decimal } from "../quantity/decimal.ts";
import { readDecimal } from "../quantity/decimal-text.ts";
import { formatToPlaces } from "../quantity/rounding.ts";
import { momentMean } from "../statistics/moment-mean.ts";
import { byVolume, largestShare, volumePercentile } from "../statistics/volume-percentile.ts";

const HALF = "50";

/**
 * Sizes of particles in words, every particle taken for a sphere of its measured diameter: `Diameter: by number D[1,0]
 * 15.7 µm; by volume D[4,3] 20.0, Dv10 13.2, Dv50 19.2, Dv90 28.2 µm, span 0.78; D[3,2] 18.5 µm, n = 30` (ISO 9276-2:2014,
 * moment-ratio notation: from memory). Where one particle is so large that it alone decides the upper percentile, it
 * says so: the volume of a few counted particles rests on very few of them.
 * @param diameters µm, at least one; those that are not above zero must be left out before
 * @throws InputError `percentiles.lower` or `percentiles.upper` for percentiles that cannot be read
 */
export function particleReport(
  name: string,
  diameters: readonly Decimal[],
  { percentiles, report, rounding }: Pick<MethodDefinition, "percentiles" | "report" | "rounding">,
): string {
  const volumes = byVolume(diameters);
  const shown = (value: Decimal): string => formatToPlaces(value, report.places, rounding);
  const at = (percent: string, field: string) =>
    volumePercentile(volumes, readDecimal(field, percent).value.div(100));
  const [lower, middle, upper] = [
    at(percentiles.lower, "percentiles.lower"),
    at(HALF, "percentiles"),
    at(percentiles.upper, "percentiles.upper"),
  ];
  const one = (percent: string, { value, clamped }: typeof lower, beyond: "<" | ">"): string =>
    `Dv${percent} ${clamped ? `${beyond} ` : ""}${shown(value)}`;
  const span =
    lower.clamped || upper.clamped
      ? ""
      : `, span ${formatToPlaces(upper.value.minus(lower.value).div(middle.value), report.ratioPlaces, rounding)}`;
  const largest = largestShare(volumes);
  const rest = decimal(100).minus(readDecimal("percentiles.upper", percentiles.upper).value).div(100);
  const alone = largest.greaterThan(rest)
    ? `; the largest particle alone is ${formatToPlaces(largest.times(100), 0, rounding)} % of the volume and decides Dv${percentiles.upper}`
    : "";
  return (
    `${name}: by number D[1,0] ${shown(momentMean(diameters, 1, 0))} µm; by volume, as spheres, ` +
    `D[4,3] ${shown(momentMean(diameters, 4, 3))}, ${one(percentiles.lower, lower, "<")}, ` +
    `${one(HALF, middle, "<")}, ${one(percentiles.upper, upper, ">")} µm${span}; ` +
    `D[3,2] ${shown(momentMean(diameters, 3, 2))} µm, n = ${diameters.length}${alone}`
  );
}
