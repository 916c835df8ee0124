import { decimal } from "../quantity/decimal.ts";

/** Tolerance of a value printed rounded: half a unit of its last printed digit. */
export function halfLastDigit(printed: string): string {
  const [mantissa = "", exponent = "0"] = printed.toLowerCase().split("e");
  const places = mantissa.split(".")[1]?.length ?? 0;
  return decimal(`5e${Number(exponent) - places - 1}`).toString();
}

/** Tolerance of a value given to full double precision: a relative 1e-13, or as much as is named. */
export function relativeTolerance(expected: string, relative = "1e-13"): string {
  return decimal(expected).abs().times(decimal(relative)).toString();
}
