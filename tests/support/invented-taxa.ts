import type { CountCategory, CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { readListText } from "#core/counting/lists/list-text.ts";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";

/** An invented pollen list of 25 taxa as a spreadsheet copies it: two sums, aquatics beside the one, marker spores. */
export const TAXA_TEXT = [
  "Taxon\tCode\tGroup\tSums\tCounts as\tStop at",
  ...["Betula", "Pinus", "Quercus", "Alnus", "Tilia", "Ulmus", "Fraxinus", "Fagus"].map(
    (name) => `${name}\t\tTrees\tLand pollen; Trees and shrubs\t\t${name === "Betula" ? "3" : ""}`,
  ),
  ...["Corylus avellana", "Salix", "Juniperus", "Hedera helix"].map(
    (name) => `${name}\t\tShrubs\tLand pollen; Trees and shrubs\t\t`,
  ),
  ...[
    "Poaceae",
    "Cyperaceae",
    "Artemisia",
    "Plantago lanceolata",
    "Rumex",
    "Chenopodiaceae",
    "Filipendula",
  ].map((name) => `${name}\t\tHerbs\tLand pollen\t\t`),
  "Calluna vulgaris\t4711\tHeaths\tLand pollen\t\t",
  ...["Nymphaea", "Potamogeton", "Typha latifolia"].map(
    (name) => `${name}\t\tAquatics\t(Land pollen)\tbeside, reported\t`,
  ),
  "Sphagnum\t\tSpores\t(Land pollen)\tbeside\t",
  "Marker spores\t\t\t\tmarker\t",
].join("\n");

/** The list as categories, its marker spores under the key that a method names. */
export function inventedTaxa(): CountCategory[] {
  return readListText(TAXA_TEXT).lines.flatMap(({ category }) =>
    category ? [category.kind === "marker" ? { ...category, key: "marker" } : category] : [],
  );
}

/** Pollen beside marker spores by the invented list: no rule names a category. */
export const POLLEN_BY_LIST: CountMethodDefinition = {
  ...POLLEN_MARKER,
  name: "Pollen by an invented list",
  categories: inventedTaxa(),
  stopping: { ...POLLEN_MARKER.stopping, rule: { kind: "units", atLeast: 300 } },
};
