import type { CountCategory, CountMethodDefinition } from "../../contract/records/count-method.ts";
import { requireClassTable } from "../../methods/class-table.ts";
import { fibreRuleOf } from "../../methods/fibre-rules.ts";
import { readDecimal } from "../../quantity/decimal-text.ts";
import { InputError, requireNotNegative, requirePositive } from "../../quantity/input-error.ts";
import type { StoppingRule } from "../../vocabulary/counting.ts";
import { readControlLimits } from "../controls/control-series.ts";
import { readLimits } from "../densities/density-decisions.ts";
import { chamberOf, drumOf, filterOf } from "../inputs/count-choices.ts";
import { requireReadableInputs } from "../inputs/count-inputs.ts";
import { plainLetters } from "../lists/find-taxon.ts";
import { EDGE_RULES } from "./edge-rules.ts";
import { requireStoppingRule } from "./stopping-rule.ts";

type AreaKind = CountMethodDefinition["area"]["kind"];

/** Which areas a formula can be counted on. */
const AREAS: { readonly [K in CountMethodDefinition["density"]["kind"]]: readonly AreaKind[] | null } = {
  none: null,
  "per-area": ["circle", "square", "rectangle", "nominal"],
  chamber: ["circle", "square", "rectangle", "nominal", "strip", "chamber-square", "whole"],
  fibres: ["circle", "square", "rectangle", "nominal"],
  "on-filter": ["circle", "square", "rectangle", "nominal"],
  marker: ["none"],
  drum: ["strip"],
  mcmaster: ["none"],
  "kato-katz": ["none"],
};

function requireOwnCode({ code }: CountCategory, before: readonly CountCategory[], field: string): void {
  if (code === undefined) return;
  const letters = plainLetters(code);
  const same = before.find((one) => one.code !== undefined && plainLetters(one.code) === letters);
  if (same) throw new InputError(field, `is the code of “${same.name}” already`);
}

/** What only some kinds of category can have. */
function requireParts({ name, kind, sums = [], reported, enough }: CountCategory, field: string): void {
  if (reported && kind !== "aside") {
    throw new InputError(`${field}.reported`, `is for what is counted beside the total: “${name}” is not`);
  }
  if ((kind === "marker" || kind === "doubtful") && (sums.length > 0 || enough !== undefined)) {
    throw new InputError(
      `${field}.sums`,
      `can't be had by “${name}”: marker spores and doubtful objects belong to no sum and have no stopping rule`,
    );
  }
  if (new Set(sums.map((sum) => sum.name)).size < sums.length) {
    throw new InputError(`${field}.sums`, `names a sum twice for “${name}”`);
  }
}

/**
 * Checks categories and their keys: no key code, code or category twice.
 * @throws InputError naming the category
 */
export function requireCategories(categories: readonly CountCategory[], field = "categories"): void {
  categories.forEach((category, i) => {
    const before = categories.slice(0, i);
    if (before.some((one) => one.key === category.key)) {
      throw new InputError(`${field}.${i}.key`, `“${category.key}” is the key of another category`);
    }
    const same = before.find((one) => one.keyCode === category.keyCode && one.keyCode !== "");
    if (same) throw new InputError(`${field}.${i}.keyCode`, `is the key of “${same.name}” already`);
    requireOwnCode(category, before, `${field}.${i}.code`);
    requireParts(category, `${field}.${i}`);
  });
  if (!categories.some((category) => category.kind === "object")) {
    throw new InputError(field, "needs at least one category that is part of the total");
  }
}

function requireKnownClasses(rule: StoppingRule, keys: readonly string[]): void {
  if (rule.kind === "all" || rule.kind === "any") {
    for (const part of rule.rules) requireKnownClasses(part, keys);
  } else if (rule.kind === "units") {
    const unknown = rule.classes?.find((name) => !keys.includes(name));
    if (unknown) throw new InputError("stopping.rule", `names “${unknown}”, which is no category`);
  }
}

function requireArea({ area, density, categories }: CountMethodDefinition): void {
  const allowed = AREAS[density.kind];
  if (allowed && !allowed.includes(area.kind)) {
    throw new InputError("area", "does not go with this density: choose another of the two");
  }
  if (area.kind === "nominal") requirePositive("area", readDecimal("area", area.area).value);
  if (density.kind === "chamber") {
    const chamber = chamberOf(density.chamber);
    if (area.kind === "chamber-square" && !chamber.squares.some((square) => square.id === area.square)) {
      throw new InputError("area", `has no such square on the ${chamber.name} chamber`);
    }
  }
  if (density.kind === "fibres" || density.kind === "on-filter") filterOf(density.filter);
  if (density.kind === "drum") drumOf(density.drum);
  if (density.kind === "marker" && !categories.some((category) => category.kind === "marker")) {
    throw new InputError("categories", "needs a category for the marker spores");
  }
}

function requireFibreRule({ fibreRuleId, density }: CountMethodDefinition): void {
  if (fibreRuleId === undefined) return;
  if (density.kind !== "fibres") throw new InputError("fibreRuleId", "goes with a density of fibres alone");
  if (!fibreRuleOf(fibreRuleId)) throw new InputError("fibreRuleId", "is not a fibre rule of the library");
}

function requireDensityLimits({ densityLimits = [], density, categories }: CountMethodDefinition): void {
  if (densityLimits.length > 0 && density.kind === "none") {
    throw new InputError("densityLimits", "need a method that has a density");
  }
  densityLimits.forEach((limit, i) => {
    const { of } = limit;
    const isReported = categories.some(
      ({ key, kind, reported }) => key === of && (kind === "object" || reported),
    );
    if (of !== "total" && !isReported) {
      throw new InputError(`densityLimits.${i}.of`, "is neither the total nor a category with a density");
    }
    readLimits(limit, `densityLimits.${i}`);
  });
}

function requireNumbers({ leastReportedObjects, wantedPrecision }: CountMethodDefinition): void {
  if (leastReportedObjects.trim() !== "") {
    requireNotNegative(
      "leastReportedObjects",
      readDecimal("leastReportedObjects", leastReportedObjects).value,
    );
  }
  if (wantedPrecision.trim() === "") return;
  const precision = readDecimal("wantedPrecision", wantedPrecision).value;
  if (!precision.greaterThan(0) || precision.greaterThan(2)) {
    throw new InputError("wantedPrecision", "must be greater than 0 and at most 2 (200 %)");
  }
}

/**
 * Checks a count method as a whole: categories and keys, area and density that go together, rules and class tables.
 * @throws InputError naming the part that makes no sense
 */
export function requireCountMethod(definition: CountMethodDefinition): void {
  requireCategories(definition.categories);
  requireArea(definition);
  requireReadableInputs(definition.suggestedInputs);
  const { rule } = definition.stopping;
  if (rule) {
    requireStoppingRule(rule, "stopping.rule");
    requireKnownClasses(
      rule,
      definition.categories.map((category) => category.key),
    );
  }
  if (definition.shareClasses) requireClassTable(definition.shareClasses);
  if (definition.densityClasses) requireClassTable(definition.densityClasses);
  if (definition.edgeRuleId !== null && !EDGE_RULES.some((rule) => rule.id === definition.edgeRuleId)) {
    throw new InputError("edgeRuleId", "is not an edge rule of the library");
  }
  requireFibreRule(definition);
  requireDensityLimits(definition);
  if (definition.controlLimits) readControlLimits(definition.controlLimits);
  requireNumbers(definition);
}
