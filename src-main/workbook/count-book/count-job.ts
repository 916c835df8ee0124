import type { CountCategory } from "#core/contract/records/count-method.ts";
import type { Paper } from "#core/contract/records/exchange.ts";
import { countsByFields } from "#core/counting/inputs/field-area.ts";
import { categoriesAtWork } from "#core/counting/lists/categories-at-work.ts";
import type { CountRule } from "#core/vocabulary/counting.ts";
import type { Progress } from "../../long-work/progress.ts";
import { certificateName, objectiveName } from "../sheet-book/lookups.ts";
import type { WorkbookKind } from "../spreadsheet/cell.ts";
import { columnLetters } from "../spreadsheet/sheet-writer.ts";
import type { CountBundle } from "./count-bundle-type.ts";

/** Stable names: formulas and readers of the workbook rely on them. */
export const COUNT_WORKSHEETS = {
  results: "Results",
  densities: "Densities",
  /** Only where cell volumes were given. */
  biovolume: "Biovolume",
  fields: "Fields",
  sequence: "Sequence",
  amendments: "Amendments",
  about: "About",
} as const;

/** Columns of Fields in front of the categories. */
export const FIELD_COLUMNS = ["Field", "x (mm)", "y (mm)", "begun at (UTC)", "counted to its end"] as const;
const COUNTED_COLUMN = columnLetters(FIELD_COLUMNS.length);

/** What every worksheet of a count's workbook is written from. */
export interface CountJob {
  readonly bundle: CountBundle;
  readonly kind: WorkbookKind;
  readonly paper: Paper;
  readonly progress: Progress;
  readonly person: (id: string | null) => string;
  /** Printed at the foot of every page. */
  readonly trace: string;
  readonly programLine: string;
  /** Those that the count reports, in the order of their columns on Fields. */
  readonly categories: readonly CountCategory[];
  /** Fields whose objects are part of the results, 1 to this. */
  readonly usedFields: number;
  /** Fields counted to their end. */
  readonly countedFields: number;
  /** True when each field enters the density, so that their scatter may be the evidence. */
  readonly scatterCounts: boolean;
  /** The rule that the results were frozen by. */
  readonly countRule: CountRule;
  /** The cells of a category (or of the total) in the fields used, as formulas write them. */
  rangeOf(category: CountCategory | "total"): string;
  /** The cells that say of every field whether it was counted to its end. */
  readonly countedRange: string;
  readonly dataSha256: string;
}

function traceOf({ count, calibration, stageMicrometer, certificate, microscope }: CountBundle): string {
  if (!calibration?.result) return `${count.number} · no factor enters or none was in force`;
  const objective = microscope?.objectives.find((one) => one.id === count.train?.objectiveId);
  const named = objective ? ` · ${objectiveName(objective)}` : "";
  const micrometer = stageMicrometer ? ` · micrometer ${stageMicrometer.name} ${stageMicrometer.serial}` : "";
  const paper = certificate ? ` · certificate ${certificateName(certificate)}` : "";
  return `${count.number}${named} · factor ${calibration.result.shownFactor} µm/div${micrometer}${paper}`;
}

export function countJob(
  bundle: CountBundle,
  {
    kind,
    paper,
    progress,
  }: { readonly kind: WorkbookKind; readonly paper: Paper; readonly progress: Progress },
  dataSha256: string,
): CountJob {
  const { count, method, fields, results, program } = bundle;
  const categories = categoriesAtWork(count.categories, fields);
  const people = new Map(bundle.people.map((person) => [person.id, person.name]));
  const countedFields = results.fields;
  const byFields = countsByFields(method.definition);
  const usedFields = byFields ? countedFields : fields.length;
  const column = (position: number): string => {
    const letters = columnLetters(FIELD_COLUMNS.length + position);
    return `${COUNT_WORKSHEETS.fields}!$${letters}$2:$${letters}$${usedFields + 1}`;
  };
  return {
    bundle,
    kind,
    paper,
    progress,
    person: (id) => (id === null ? "" : (people.get(id) ?? id)),
    trace: traceOf(bundle),
    categories,
    programLine: `${program.name} ${program.version}`,
    usedFields,
    countedFields,
    scatterCounts: byFields && countedFields >= 2,
    countRule: results.countRule ?? "clustered-only",
    rangeOf: (category) =>
      category === "total"
        ? column(categories.length + 1)
        : column(categories.findIndex((one) => one.key === category.key) + 1),
    countedRange: `${COUNT_WORKSHEETS.fields}!$${COUNTED_COLUMN}$2:$${COUNTED_COLUMN}$${fields.length + 1}`,
    dataSha256,
  };
}
