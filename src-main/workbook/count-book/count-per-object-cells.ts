import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { CountingChamber } from "#core/counting/areas/chambers.ts";
import { KATO_KATZ } from "#core/counting/densities/egg-count.ts";
import { chamberOf, drumOf, filterOf } from "#core/counting/inputs/count-choices.ts";
import { inputLines, type NamedLines } from "./count-inputs-cells.ts";
import type { CountJob } from "./count-job.ts";

/**
 * From the inputs to what one object stands for, step by step as named cells, and the relative doubts beside the count's
 * own. The same arithmetic as the counting core, in a spreadsheet's words.
 */
export interface PerObjectCells {
  readonly lines: NamedLines;
  /** Names of the cells with relative standard uncertainties, signs left out. */
  readonly uncertainties: readonly string[];
}

type Area = CountMethodDefinition["area"];

function uncertainty(
  lines: NamedLines,
  uncertainties: string[],
  name: string,
  words: string,
  by: string,
  value: number,
): void {
  lines.made(name, `relative u from ${words}`, "", by, value);
  uncertainties.push(name);
}

function factorUncertainty(lines: NamedLines, uncertainties: string[], power: number): void {
  if (!lines.has("factor_1")) return;
  const value = (power * lines.value("factor_1_u")) / lines.value("factor_1");
  uncertainty(lines, uncertainties, "u_factor", "the factor", `${power}*factor_1_u/factor_1`, value);
}

function uncertaintyOfReading(lines: NamedLines, uncertainties: string[], key: string, power: number): void {
  const value = (power * lines.value("in_readingUncertainty")) / lines.value(`in_${key}`);
  uncertainty(
    lines,
    uncertainties,
    `u_${key}`,
    `the reading of the ${key}`,
    `${power}*in_readingUncertainty/in_${key}`,
    value,
  );
}

function lengthLine(lines: NamedLines, key: string): void {
  const value = (lines.value(`in_${key}`) * lines.value("factor_1")) / 1000;
  lines.made(`${key}_mm`, key, "mm", `in_${key}*factor_1/1000`, value);
}

function areaLines(area: Area, lines: NamedLines, uncertainties: string[]): void {
  const made = (formula: string, value: number) =>
    lines.made("field_area", "area of one field", "mm²", formula, value);
  switch (area.kind) {
    case "nominal":
      lines.given("field_area", "area of one field, as stated", "mm²", Number(area.area.replace(",", ".")));
      return;
    case "circle":
      lengthLine(lines, "diameter");
      made("PI()/4*diameter_mm^2", (Math.PI / 4) * lines.value("diameter_mm") ** 2);
      uncertaintyOfReading(lines, uncertainties, "diameter", 2);
      factorUncertainty(lines, uncertainties, 2);
      return;
    case "square":
      lengthLine(lines, "side");
      made("side_mm^2", lines.value("side_mm") ** 2);
      uncertaintyOfReading(lines, uncertainties, "side", 2);
      factorUncertainty(lines, uncertainties, 2);
      return;
    case "rectangle":
      lengthLine(lines, "width");
      lengthLine(lines, "height");
      made("width_mm*height_mm", lines.value("width_mm") * lines.value("height_mm"));
      uncertaintyOfReading(lines, uncertainties, "width", 1);
      uncertaintyOfReading(lines, uncertainties, "height", 1);
      factorUncertainty(lines, uncertainties, 2);
      return;
    case "strip":
      lengthLine(lines, "width");
      uncertaintyOfReading(lines, uncertainties, "width", 1);
      factorUncertainty(lines, uncertainties, 1);
      return;
    default:
  }
}

function chamberLines(chamber: CountingChamber, lines: NamedLines): void {
  const { outline } = chamber;
  if (outline.kind === "circle") {
    const diameter = Number(outline.diameter);
    lines.given("chamber_length", `diameter of the ${chamber.name} chamber`, "mm", diameter, chamber.source);
    lines.made("chamber_area", "its floor", "mm²", "PI()/4*chamber_length^2", (Math.PI / 4) * diameter ** 2);
  } else {
    lines.given(
      "chamber_length",
      `length of the ${chamber.name} chamber`,
      "mm",
      Number(outline.length),
      chamber.source,
    );
    lines.given("chamber_width", "its width", "mm", Number(outline.width));
    const floor = lines.value("chamber_length") * lines.value("chamber_width");
    lines.made("chamber_area", "its floor", "mm²", "chamber_length*chamber_width", floor);
  }
  if (chamber.depth !== null) lines.given("chamber_depth", "its depth", "mm", Number(chamber.depth));
}

/** The area counted, as a formula and its value. */
function countedAreaOf(
  area: Area,
  chamber: CountingChamber,
  lines: NamedLines,
): { readonly formula: string; readonly value: number } {
  const n = lines.value("fields_counted");
  switch (area.kind) {
    case "whole":
      return {
        formula: "in_share*chamber_area",
        value: lines.value("in_share") * lines.value("chamber_area"),
      };
    case "strip":
      return {
        formula: "fields_counted*width_mm*chamber_length",
        value: n * lines.value("width_mm") * lines.value("chamber_length"),
      };
    case "chamber-square": {
      const square = chamber.squares.find((one) => one.id === area.square);
      lines.given("square_area", square?.name ?? "ruled square", "mm²", Number(square?.area ?? 0));
      return { formula: "fields_counted*square_area", value: n * lines.value("square_area") };
    }
    default:
      return { formula: "fields_counted*field_area", value: n * lines.value("field_area") };
  }
}

function countedArea(area: Area, chamber: CountingChamber, lines: NamedLines): void {
  const { formula, value } = countedAreaOf(area, chamber, lines);
  lines.made("counted_area", "area counted", "mm²", formula, value);
}

/** Relative doubt of an input that has one typed beside it. */
function inputUncertainty(lines: NamedLines, uncertainties: string[], key: string): void {
  const value = lines.value(`in_${key}Uncertainty`) / lines.value(`in_${key}`);
  uncertainty(lines, uncertainties, `u_${key}`, key, `in_${key}Uncertainty/in_${key}`, value);
}

function chamberDensity(
  area: Area,
  chamber: CountingChamber,
  lines: NamedLines,
  uncertainties: string[],
): void {
  chamberLines(chamber, lines);
  countedArea(area, chamber, lines);
  if (chamber.depth === null) {
    const value =
      (lines.value("counted_area") / lines.value("chamber_area")) * lines.value("in_settledVolume");
    lines.made("volume", "volume looked at", "mL", "counted_area/chamber_area*in_settledVolume", value);
    inputUncertainty(lines, uncertainties, "settledVolume");
  } else {
    const value = (lines.value("counted_area") * lines.value("chamber_depth")) / 1000;
    lines.made("volume", "volume looked at", "mL", "counted_area*chamber_depth/1000", value);
    const relative = lines.value("in_depthHalfWidth") / Math.sqrt(3) / lines.value("chamber_depth");
    uncertainty(
      lines,
      uncertainties,
      "u_depth",
      "the depth",
      "in_depthHalfWidth/SQRT(3)/chamber_depth",
      relative,
    );
  }
  inputUncertainty(lines, uncertainties, "dilution");
  const value = lines.value("in_dilution") / lines.value("volume");
  lines.made("per_object", "what one object stands for", "/mL", "in_dilution/volume", value);
}

function markerDensity(unit: string, lines: NamedLines, uncertainties: string[]): void {
  const v = lines.value;
  const value = (v("in_sporesPerTablet") * v("in_markerTablets")) / v("marker_counted") / v("in_sampleSize");
  const formula = "in_sporesPerTablet*in_markerTablets/marker_counted/in_sampleSize";
  const tablets = v("in_sporesDeviation") / v("in_sporesPerTablet") / Math.sqrt(v("in_markerTablets"));
  uncertainty(
    lines,
    uncertainties,
    "u_tablets",
    "spores in the tablets",
    "in_sporesDeviation/in_sporesPerTablet/SQRT(in_markerTablets)",
    tablets,
  );
  uncertainty(
    lines,
    uncertainties,
    "u_marker",
    "the count of marker spores",
    "1/SQRT(marker_counted)",
    1 / Math.sqrt(v("marker_counted")),
  );
  inputUncertainty(lines, uncertainties, "sampleSize");
  lines.made("per_object", "what one object stands for", `grains/${unit}`, formula, value);
}

function drumDensity(definition: CountMethodDefinition, lines: NamedLines): void {
  if (definition.density.kind !== "drum") return;
  const drum = drumOf(definition.density.drum);
  lines.given("trace_width", `width of the trace, ${drum.name}`, "mm", Number(drum.traceWidth), drum.source);
  lines.given("airflow", "air drawn", "L/min", Number(drum.airflow));
  const air = (lines.value("airflow") * 1440) / 1000;
  lines.made("air", "air of 24 h", "m³", "airflow*1440/1000", air);
  const share = (lines.value("width_mm") * lines.value("fields_counted")) / lines.value("trace_width");
  lines.made("share_counted", "share of the trace counted", "", "width_mm*fields_counted/trace_width", share);
  lines.made("per_object", "what one object stands for", "/m³", "1/(share_counted*air)", 1 / (share * air));
}

function fibreDensity(definition: CountMethodDefinition, lines: NamedLines, uncertainties: string[]): void {
  if (definition.density.kind !== "fibres") return;
  const filter = filterOf(definition.density.filter);
  const v = lines.value;
  lines.given(
    "filter_area",
    `effective area, ${filter.name}`,
    "mm²",
    Number(filter.effectiveArea),
    filter.source,
  );
  const blank = v("in_blankFields") > 0 ? v("in_blankCount") / v("in_blankFields") : 0;
  lines.made(
    "blank",
    "fibres in one field of the blank",
    "",
    "IF(in_blankFields>0,in_blankCount/in_blankFields,0)",
    blank,
  );
  lines.made(
    "per_field",
    "fibres/mm² that one fibre in a field stands for",
    "/mm²",
    "1/field_area",
    1 / v("field_area"),
  );
  const perLoading = v("filter_area") / (v("in_airVolume") * 1000);
  lines.made(
    "per_loading",
    "fibres/cc that 1 fibre/mm² stands for",
    "mm²/cc",
    "filter_area/(in_airVolume*1000)",
    perLoading,
  );
  inputUncertainty(lines, uncertainties, "airVolume");
}

function filterDensity(definition: CountMethodDefinition, lines: NamedLines, uncertainties: string[]): void {
  if (definition.density.kind !== "on-filter") return;
  const { filter, per } = definition.density;
  const { name, effectiveArea, source } = filterOf(filter);
  const v = lines.value;
  lines.given("filter_area", `effective area, ${name}`, "mm²", Number(effectiveArea), source);
  lines.made(
    "per_object",
    "what one particle stands for",
    `/${per}`,
    "filter_area/(fields_counted*field_area*in_sampleSize)",
    v("filter_area") / (v("fields_counted") * v("field_area") * v("in_sampleSize")),
  );
  inputUncertainty(lines, uncertainties, "sampleSize");
}

function formulaLines(job: CountJob, lines: NamedLines, uncertainties: string[]): void {
  const { definition } = job.bundle.method;
  const { area, density } = definition;
  const v = lines.value;
  switch (density.kind) {
    case "none":
      return;
    case "per-area":
      lines.made(
        "per_object",
        "what one object stands for",
        "/mm²",
        "1/(fields_counted*field_area)",
        1 / (v("fields_counted") * v("field_area")),
      );
      return;
    case "chamber":
      chamberDensity(area, chamberOf(density.chamber), lines, uncertainties);
      return;
    case "on-filter":
      filterDensity(definition, lines, uncertainties);
      return;
    case "marker":
      markerDensity(density.sampleUnit, lines, uncertainties);
      return;
    case "drum":
      drumDensity(definition, lines);
      return;
    case "fibres":
      fibreDensity(definition, lines, uncertainties);
      return;
    case "mcmaster":
      lines.made(
        "per_object",
        "what one egg stands for",
        "EPG",
        "in_suspension/(in_mass*in_readVolume)",
        v("in_suspension") / (v("in_mass") * v("in_readVolume")),
      );
      return;
    case "kato-katz":
      if (density.by === "multiplier") {
        lines.given(
          "per_object",
          "printed multiplier",
          "EPG",
          Number(KATO_KATZ.multiplier),
          KATO_KATZ.source,
        );
      } else
        lines.made(
          "per_object",
          "what one egg stands for",
          "EPG",
          "1000/in_template",
          1000 / v("in_template"),
        );
  }
}

/** Every named cell up to what one object stands for. Only for a count that has densities. */
export function perObjectCells(job: CountJob): PerObjectCells {
  const { bundle, countedFields } = job;
  const lines = inputLines(job);
  const uncertainties: string[] = [];
  const counted = `COUNTIF(${job.countedRange},"yes")`;
  lines.made("fields_counted", "fields counted to their end", "", counted, countedFields);
  const marker = bundle.count.categories.filter((category) => category.kind === "marker");
  if (marker.length > 0) {
    const sums = marker.map((category) => `SUM(${job.rangeOf(category)})`).join("+");
    lines.made("marker_counted", "marker spores counted", "", sums, Number(bundle.results.marker));
  }
  areaLines(bundle.method.definition.area, lines, uncertainties);
  formulaLines(job, lines, uncertainties);
  const other = Math.hypot(...uncertainties.map((name) => lines.value(name)));
  const formula = uncertainties.length === 0 ? "0" : `SQRT(SUMSQ(${uncertainties.join(",")}))`;
  lines.made("u_other", "all relative doubts beside the count's own", "", formula, other);
  return { lines, uncertainties };
}
