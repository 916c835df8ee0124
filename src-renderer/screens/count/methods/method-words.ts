import type { ControlLimits } from "#core/contract/records/control-sample.ts";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { DENSITY_RULE_WORDS } from "#core/counting/densities/density-decisions.ts";
import { chamberOf, drumOf, filterOf } from "#core/counting/inputs/count-choices.ts";

/** What one field of a method is, in words. */
export function areaWords({ area, density }: CountMethodDefinition): string {
  switch (area.kind) {
    case "circle":
      return "a circle; its diameter in divisions, by the calibrated factor";
    case "square":
      return "a grid square; its side in divisions, by the calibrated factor";
    case "rectangle":
      return "a rectangle; width and height in divisions, by the calibrated factor";
    case "strip":
      return "a strip; its width in divisions, by the calibrated factor";
    case "nominal":
      return `${area.area} mm² (${area.source}; ${area.standing})`;
    case "chamber-square":
      return squareWords(area.square, density);
    case "whole":
      return "the whole chamber or a share of it";
    case "none":
      return "of no matter: the density does not come from an area";
  }
}

function squareWords(square: string, density: CountMethodDefinition["density"]): string {
  const chamber = density.kind === "chamber" ? chamberOf(density.chamber) : null;
  const found = chamber?.squares.find(({ id }) => id === square);
  return found ? `a ${found.name} of the chamber, ${found.area} mm²` : `a square “${square}” of the chamber`;
}

/** How the density is made, with chamber, filter or drum and their source. */
export function densityWords({ density }: CountMethodDefinition): string {
  switch (density.kind) {
    case "none":
      return "none: shares only";
    case "per-area":
      return "per mm² of the area looked at";
    case "chamber": {
      const { name, depth, source, standing } = chamberOf(density.chamber);
      const deep = depth === null ? "settled volume" : `${depth} mm deep`;
      return `per mL, ${name} chamber, ${deep} (${source}; ${standing})`;
    }
    case "fibres": {
      const { name, effectiveArea, source, standing } = filterOf(density.filter);
      return `fibres per mm² and per cc; ${name}, ${effectiveArea} mm² (${source}; ${standing})`;
    }
    case "on-filter": {
      const { name, effectiveArea, source, standing } = filterOf(density.filter);
      return `per ${density.per}, from a part of a filter; ${name}, ${effectiveArea} mm² (${source}; ${standing})`;
    }
    case "marker":
      return `per ${density.sampleUnit}, by marker spores`;
    case "drum": {
      const { name, source, standing } = drumOf(density.drum);
      return `per m³ of air, ${name} (${source}; ${standing})`;
    }
    case "mcmaster":
      return "eggs per gram, by the volume read";
    case "kato-katz":
      return density.by === "multiplier"
        ? "eggs per gram, by the multiplier"
        : "eggs per gram, by the template's mass";
  }
}

/** The limits of a method, a line each, with the rule that decides. */
export function limitFacts({
  densityLimits = [],
  controlLimits,
  categories,
}: CountMethodDefinition): readonly (readonly [name: string, words: string])[] {
  const ofDensities = densityLimits.map(({ of, lower, upper, rule }) => {
    const name = categories.find(({ key }) => key === of)?.name ?? "total";
    const least = lower.trim() === "" ? [] : [`at least ${lower}`];
    const most = upper.trim() === "" ? [] : [`at most ${upper}`];
    const words = `${[...least, ...most].join(" and ")}, by ${DENSITY_RULE_WORDS[rule]}`;
    return [`Limit of ${name}`, words] as const;
  });
  return controlLimits
    ? [...ofDensities, ["Limits of control samples", controlLimitWords(controlLimits)]]
    : ofDensities;
}

function controlLimitWords(limits: ControlLimits): string {
  const { blankUpper, recoveryLower, recoveryUpper, duplicateUpper, source } = limits;
  const parts = [
    [blankUpper, `blank at most ${blankUpper} objects per field`],
    [recoveryLower, `recovery at least ${recoveryLower} %`],
    [recoveryUpper, `recovery at most ${recoveryUpper} %`],
    [duplicateUpper, `relative range of duplicates at most ${duplicateUpper} %`],
  ].flatMap(([typed, words]) => (typed?.trim() ? [words] : []));
  return `${parts.join("; ")}${source === "" ? "" : ` (${source})`}`;
}
