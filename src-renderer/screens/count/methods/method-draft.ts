import type { ControlLimits } from "#core/contract/records/control-sample.ts";
import type {
  CountCategory,
  CountMethodDefinition,
  DensityFormula,
  DensityLimit,
} from "#core/contract/records/count-method.ts";
import { COUNTING_CHAMBERS } from "#core/counting/areas/chambers.ts";
import { COLLECTING_FILTERS } from "#core/counting/areas/filters.ts";
import { requireCountMethod } from "#core/counting/methods/count-method-check.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { problemOfNumber } from "#core/quantity/number-rule.ts";
import type { StoppingRule } from "#core/vocabulary/counting.ts";
import { exercisesOf } from "../../../parts/bench-words/exercise-choices.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";
import type { Choice } from "../../../parts/form/SelectField.tsx";
import { NO_PARTS, type StopTogether, togetherName, togetherProblems, togetherRule } from "./stop-parts.ts";

export const STOP_CHOICES = [
  "as it is",
  "units",
  "fields",
  "minutes",
  "interval",
  "several",
  "none",
] as const;

/** A count method as typed, made from another one. */
export interface MethodValues {
  readonly name: string;
  readonly categories: readonly CountCategory[];
  readonly edgeRuleId: string;
  readonly densityLimits: readonly DensityLimit[];
  /** Drafts of an earlier version have none. */
  readonly controlLimits?: ControlLimits;
  /** Empty: the method names none. */
  readonly fibreRuleId: string;
  readonly stop: string;
  /** Objects, fields or minutes; for an interval the half-width in per cent. */
  readonly stopNumber: string;
  /** Conditions of a combined rule; drafts of an earlier version have none. */
  readonly stopTogether?: StopTogether;
  readonly precision: string;
  readonly leastReported: string;
  /** `as it is`, `library …` with an id, or an own chamber or filter with the dimensions below, mm and mm². */
  readonly vessel: string;
  readonly vesselName: string;
  readonly vesselLength: string;
  readonly vesselWidth: string;
  readonly vesselDiameter: string;
  readonly vesselDepth: string;
  readonly filterArea: string;
  readonly vesselSource: string;
  /** Names of exercises, by spaces. */
  readonly practice: string;
  readonly note: string;
}

const NO_CONTROL_LIMITS: ControlLimits = {
  blankUpper: "",
  recoveryLower: "",
  recoveryUpper: "",
  duplicateUpper: "",
  source: "",
};

const LIBRARY = "library ";

/** The values of `vessel` beside those of the library. */
export const VESSELS = ["as it is", "own rectangle", "own circle"] as const;

/** The chambers or filters that a method may use, with words; none where its area is ruled on its own chamber. */
export function vesselChoices({ area, density }: CountMethodDefinition): readonly Choice[] {
  const asItIs = { value: VESSELS[0], words: "as it is" };
  const known = (all: readonly { readonly id: string; readonly name: string }[]): readonly Choice[] =>
    all.map(({ id, name }) => ({ value: LIBRARY + id, words: name }));
  if (density.kind === "fibres" || density.kind === "on-filter") {
    return [asItIs, ...known(COLLECTING_FILTERS), { value: VESSELS[2], words: "an own filter" }];
  }
  if (density.kind !== "chamber" || area.kind === "chamber-square") return [];
  return [
    asItIs,
    ...known(COUNTING_CHAMBERS),
    { value: VESSELS[1], words: "an own chamber, rectangular" },
    { value: VESSELS[2], words: "an own chamber, round" },
  ];
}

/** True when the dimensions of an own chamber or filter are asked for. */
export function isOwnVessel({ vessel }: Pick<MethodValues, "vessel">): boolean {
  return vessel === VESSELS[1] || vessel === VESSELS[2];
}

export function valuesOfMethod(definition: CountMethodDefinition): MethodValues {
  return {
    name: definition.name,
    categories: definition.categories,
    edgeRuleId: definition.edgeRuleId ?? "",
    fibreRuleId: definition.fibreRuleId ?? "",
    densityLimits: definition.densityLimits ?? [],
    controlLimits: definition.controlLimits ?? NO_CONTROL_LIMITS,
    stop: STOP_CHOICES[0],
    stopNumber: "",
    stopTogether: NO_PARTS,
    precision: definition.wantedPrecision,
    leastReported: definition.leastReportedObjects,
    vessel: VESSELS[0],
    vesselName: "",
    vesselLength: "",
    vesselWidth: "",
    vesselDiameter: "",
    vesselDepth: "",
    filterArea: "",
    vesselSource: "",
    practice: (definition.practice ?? []).join(" "),
    note: definition.note,
  };
}

function ruleOf({
  stop,
  stopNumber,
  stopTogether = NO_PARTS,
  categories,
}: MethodValues): StoppingRule | null {
  if (stop === "none") return null;
  if (stop === "several") return togetherRule(stopTogether, categories);
  const atLeast = readDecimal("stopNumber", stopNumber).value.toNumber();
  switch (stop) {
    case "units":
    case "fields":
    case "minutes":
      return { kind: stop, atLeast };
    case "interval":
      return { kind: "interval", relativeHalfWidth: atLeast / 100, level: 0.95 };
    default:
      return null;
  }
}

function ruleName({ stop, stopNumber, stopTogether = NO_PARTS }: MethodValues): string {
  if (stop === "none") return "no rule";
  if (stop === "several") return togetherName(stopTogether);
  if (stop === "interval") return `± ${stopNumber} % at 95 %`;
  return `${stopNumber} ${stop === "units" ? "objects" : stop}`;
}

function stoppingOf(values: MethodValues, base: CountMethodDefinition): CountMethodDefinition["stopping"] {
  if (values.stop === STOP_CHOICES[0]) return base.stopping;
  const source = "Chosen by the laboratory";
  return { name: ruleName(values), rule: ruleOf(values), source, standing: "own" };
}

function densityOf(values: MethodValues, base: DensityFormula): DensityFormula {
  if (values.vessel === VESSELS[0]) return base;
  const known = values.vessel.startsWith(LIBRARY) ? values.vessel.slice(LIBRARY.length) : null;
  if (known !== null && base.kind === "chamber") {
    return { ...base, chamber: { from: "library", chamberId: known } };
  }
  if (known !== null && (base.kind === "fibres" || base.kind === "on-filter")) {
    return { ...base, filter: { from: "library", filterId: known } };
  }
  const own = { name: values.vesselName, source: values.vesselSource, standing: "own" as const };
  if (base.kind === "fibres" || base.kind === "on-filter") {
    return { ...base, filter: { from: "own", ...own, effectiveArea: values.filterArea } };
  }
  if (base.kind !== "chamber") return base;
  const { vesselLength: length, vesselWidth: width, vesselDiameter: diameter } = values;
  const outline =
    values.vessel === "own circle"
      ? ({ kind: "circle", diameter } as const)
      : ({ kind: "rectangle", length, width } as const);
  return {
    ...base,
    chamber: { from: "own", ...own, outline, depth: values.vesselDepth, squares: [] },
  };
}

/** The definition that the typed values make of the method they started from. */
export function definitionOf(values: MethodValues, base: CountMethodDefinition): CountMethodDefinition {
  const {
    practice: _practice,
    fibreRuleId: _rule,
    densityLimits: _limits,
    controlLimits: _controls,
    ...rest
  } = base;
  const { source = "", ...limits } = values.controlLimits ?? NO_CONTROL_LIMITS;
  const hasLimits = Object.values(limits).some((typed) => typed.trim() !== "");
  const exercises = exercisesOf(values.practice);
  return {
    ...rest,
    ...(values.densityLimits.length === 0 ? {} : { densityLimits: [...values.densityLimits] }),
    ...(hasLimits ? { controlLimits: { ...limits, source } } : {}),
    ...(values.fibreRuleId === "" ? {} : { fibreRuleId: values.fibreRuleId }),
    ...(exercises.length === 0 ? {} : { practice: exercises }),
    name: values.name.trim(),
    categories: [...values.categories],
    edgeRuleId: base.edgeRuleId === null ? null : values.edgeRuleId,
    stopping: stoppingOf(values, base),
    density: densityOf(values, base.density),
    wantedPrecision: values.precision,
    leastReportedObjects: values.leastReported,
    note: values.note,
  };
}

const FIELD_OF: Readonly<Record<string, keyof MethodValues>> = {
  wantedPrecision: "precision",
  leastReportedObjects: "leastReported",
  "stopping.rule": "stopNumber",
  length: "vesselLength",
  width: "vesselWidth",
  diameter: "vesselDiameter",
  depth: "vesselDepth",
  effectiveArea: "filterArea",
};

/** The form's field for a path of the definition, as the core or the host names it. */
export function fieldOfPath(path: string): string {
  const known = Object.entries(FIELD_OF).find(([part]) => path === part || path.startsWith(`${part}.`));
  const last = path.split(".").at(-1) ?? path;
  if (/^(density|control)Limits/.test(path)) return path;
  return known?.[1] ?? FIELD_OF[last] ?? (path.startsWith("categories") ? "categories" : path);
}

function problemsOfVessel(values: MethodValues, base: CountMethodDefinition): FieldErrors {
  if (!isOwnVessel(values)) return {};
  const needed: readonly (keyof MethodValues)[] =
    base.density.kind === "fibres" || base.density.kind === "on-filter"
      ? ["filterArea"]
      : values.vessel === "own circle"
        ? ["vesselDiameter"]
        : ["vesselLength", "vesselWidth"];
  const errors: Record<string, string> = {};
  for (const field of needed) {
    const problem = problemOfNumber(String(values[field]), { sign: "positive" });
    if (problem) errors[field] = problem;
  }
  const depth = problemOfNumber(values.vesselDepth, { optional: true, sign: "positive" });
  if (depth) errors.vesselDepth = depth;
  if (values.vesselName.trim() === "") errors.vesselName = "Enter a name.";
  if (values.vesselSource.trim() === "") errors.vesselSource = "is empty: say where the dimensions come from";
  return errors;
}

/** What is wrong with the typed values, at their fields. */
export function problemsOfMethod(values: MethodValues, base: CountMethodDefinition): FieldErrors {
  const errors: Record<string, string> = { ...problemsOfVessel(values, base) };
  if (values.name.trim() === "") errors.name = "Enter a name.";
  if (values.stop === "several") {
    Object.assign(errors, togetherProblems(values.stopTogether ?? NO_PARTS, values.categories));
  } else if (values.stop !== STOP_CHOICES[0] && values.stop !== "none") {
    const problem = problemOfNumber(values.stopNumber, { sign: "positive" });
    if (problem) errors.stopNumber = problem;
  }
  if (Object.keys(errors).length > 0) return errors;
  try {
    requireCountMethod(definitionOf(values, base));
    return {};
  } catch (error) {
    if (error instanceof InputError) return { [fieldOfPath(error.field)]: error.reason };
    throw error;
  }
}
