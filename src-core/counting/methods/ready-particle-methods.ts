import type { CountMethodDefinition } from "../../contract/records/count-method.ts";
import { FILTER_25_MM } from "../areas/filters.ts";
import { categoryUnder, DOUBTFUL, PLAIN } from "./method-parts.ts";

const SOURCE = "USP <788>, method 2, microscopic: P·A_T/A_P and limits";

/**
 * Two classes that exclude each other, so that their total is all from 10 µm on: a particle of 25 µm and more belongs to
 * both limits of the pharmacopoeia.
 */
function particlesPer(per: string, ten: string, twentyFive: string, nominal: string): CountMethodDefinition {
  const atMost = (of: string, upper: string) =>
    ({ of, lower: "", upper, rule: "simple-acceptance" }) as const;
  return {
    ...PLAIN,
    name: `Particles on a filter, 10 µm and 25 µm, per ${per}`,
    categories: [
      categoryUnder("Numpad1", "from_10", "10 µm to less than 25 µm"),
      categoryUnder("Numpad2", "from_25", "25 µm and more"),
      categoryUnder("Numpad3", "other", "not a particle", { kind: "aside" }),
      DOUBTFUL,
    ],
    countingUnit: "particle",
    area: { kind: "circle" },
    density: { kind: "on-filter", filter: { from: "library", filterId: FILTER_25_MM.id }, per },
    densityLimits: [atMost("total", ten), atMost("from_25", twentyFive)],
    suggestedInputs: {},
    stopping: {
      name: "the part of the filter that the method names",
      rule: null,
      source: SOURCE,
      standing: "from memory",
    },
    cautions: [
      `Limits for containers of ${nominal} nominal; the pharmacopoeia in force decides, not this table.`,
      "The size of a particle is its longest dimension under the calibrated scale. Gelatinous or amorphous matter is not judged by this method.",
      "A blank is counted as a count of its own and is not taken off. Release decisions rest with the quality unit.",
    ],
    source: SOURCE,
    standing: "from memory",
  };
}

export const PARTICLES_PER_CONTAINER = particlesPer("container", "3000", "300", "100 mL or less");
export const PARTICLES_PER_ML = particlesPer("mL", "12", "2", "more than 100 mL");
