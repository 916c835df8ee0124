import type { DefaultInput } from "../calibration/default-conditions.ts";
import type { TypedReadingConditions } from "../contract/records/method.ts";

/** What a method assumes about one reading until somebody types better; each may be set to 0. */
export const DEFAULT_READING_CONDITIONS: Readonly<
  Record<Exclude<keyof TypedReadingConditions, "ends" | "edgeKind" | "repeatabilitySource">, DefaultInput>
> & {
  readonly ends: { readonly value: TypedReadingConditions["ends"]; readonly why: string };
  readonly edgeKind: { readonly value: TypedReadingConditions["edgeKind"]; readonly why: string };
} = {
  smallestFraction: {
    value: "0.1",
    why: "Tenths of a division are estimated at either edge. Common practice, no source.",
  },
  repeatability: {
    value: "0.2",
    why: "Standard deviation of one pair of readings, 0.2 division for a practised person. Common practice, no source: replace it by your own from ten repeats of one object.",
  },
  repeatabilityDegreesOfFreedom: {
    value: "",
    why: "Empty: the repeatability is taken as known. With your own repeats, type their number less one (JCGM 100:2008 4.2.6).",
  },
  alignmentHalfAngle: {
    value: "0",
    why: "The eyepiece is turned until scale and object lie along each other; 1° would change a size by 0.005 %. Common practice, no source.",
  },
  ends: {
    value: "points",
    why: "The ends of the object are points, as of a grain or a fibre's length; choose parallel edges for the width of a fibre.",
  },
  edgeHalfWidth: {
    value: "0",
    why: "The edge is where the method says it is. For absolute sizes type a quarter to a half of the resolution limit 0.61 λ/NA. Common practice, no source.",
  },
  edgeDegreesOfFreedom: {
    value: "",
    why: "Empty: the doubt about the edge is taken as known. A figure good to 25 % has 8 (JCGM 100:2008 G.4.2).",
  },
  edgeKind: {
    value: "same-sense",
    why: "A halo or a thick wall shifts both edges the same way, outwards or inwards. Common practice, no source.",
  },
};

/** The default conditions as a method keeps them. */
export function defaultTypedReadingConditions(): TypedReadingConditions {
  return {
    smallestFraction: DEFAULT_READING_CONDITIONS.smallestFraction.value,
    repeatability: DEFAULT_READING_CONDITIONS.repeatability.value,
    repeatabilityDegreesOfFreedom: DEFAULT_READING_CONDITIONS.repeatabilityDegreesOfFreedom.value,
    alignmentHalfAngle: DEFAULT_READING_CONDITIONS.alignmentHalfAngle.value,
    ends: DEFAULT_READING_CONDITIONS.ends.value,
    edgeHalfWidth: DEFAULT_READING_CONDITIONS.edgeHalfWidth.value,
    edgeDegreesOfFreedom: DEFAULT_READING_CONDITIONS.edgeDegreesOfFreedom.value,
    edgeKind: DEFAULT_READING_CONDITIONS.edgeKind.value,
  };
}
