import type { CountCategory, CountMethodDefinition } from "../../contract/records/count-method.ts";
import type { CountResults } from "../../contract/records/count-results.ts";
import { countedNoun } from "../../quantity/counted-noun.ts";
import type { CountRule } from "../../vocabulary/counting.ts";
import type { FieldCounts } from "../inputs/field-counts.ts";
import type { DispersionResult } from "../intervals/dispersion-test.ts";
import { skewedCaution } from "../intervals/skewed-fields.ts";

/** What the cautions of a count follow from. */
interface CautionData extends Pick<CountResults, "densities"> {
  readonly definition: CountMethodDefinition;
  readonly categories: readonly CountCategory[];
  readonly lastFieldCounted: boolean;
  readonly trainCautions?: readonly string[];
  readonly countRule: CountRule;
  readonly all: readonly FieldCounts[];
  readonly done: readonly FieldCounts[];
  readonly inHand: number;
  readonly byFields: boolean;
  readonly dispersion: DispersionResult | null;
  /** Of the density, as with few marker spores. */
  readonly warning: string | null;
}

/** Below this many fields t is so large that U says more of the fewness than of the count; a choice. */
const FEW_FIELDS = 5;

function fewFieldsCaution({ densities, done }: CautionData): string[] {
  const degrees = densities[0]?.degreesOfFreedom;
  if (degrees === undefined || degrees + 1 >= FEW_FIELDS) return [];
  const counted = countedNoun(done.length, "field");
  return [
    `U rests on the scatter between ${counted}, which so few show badly: more fields make it much smaller.`,
  ];
}

/** Where the density rests on the fields; those that differ strongly need no word about the fewness besides. */
function fieldCautions(counted: CautionData): string[] {
  const { countRule, dispersion } = counted;
  const byFields = counted.densities[0]?.degreesOfFreedom !== undefined;
  const strong = byFields && countRule === "skewed-limits" && dispersion ? skewedCaution(dispersion) : null;
  return strong === null ? fewFieldsCaution(counted) : [strong];
}

/** What a person must know beside the results of a count, one sentence or two each. */
export function countCautions(counted: CautionData): string[] {
  const { warning, definition, categories, lastFieldCounted, trainCautions = [] } = counted;
  const cautions = [...definition.cautions, ...trainCautions];
  if (warning) cautions.push(warning);
  const colonies = categories.some(
    ({ key, decimals }) =>
      !decimals && counted.all.some((field) => Number(field.counts[key] ?? "0") > (field.presses[key] ?? 0)),
  );
  if (colonies) {
    cautions.push(
      "Some presses stand for colonies: objects that come in groups scatter more than single ones, so trust the interval between fields.",
    );
  }
  const inUnits = categories.filter(({ decimals, kind }) => decimals && kind === "object");
  if (inUnits.length > 0) {
    cautions.push(
      `${inUnits.map(({ name }) => `“${name}”`).join(", ")}: counted in decimal units, which are no separate objects. Limits of the total and of shares take them for such; trust the interval between fields.`,
    );
  }
  if (counted.byFields && !lastFieldCounted && counted.inHand > 0) {
    cautions.push(
      `${countedNoun(counted.inHand, "object lies", "objects lie")} in a field that is not finished; no density holds them.`,
    );
  }
  return [...cautions, ...fieldCautions(counted)];
}
