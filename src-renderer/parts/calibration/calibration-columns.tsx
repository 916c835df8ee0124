import type { BudgetLine, TypedSetting } from "#core/contract/records/calibration.ts";
import { asPercent, toFour } from "../bench-words/figures.ts";
import type { Column } from "../layout/DataTable.tsx";

type NumberedSetting = TypedSetting & { readonly number: number };

export const SETTING_COLUMNS: readonly Column<NumberedSetting>[] = [
  { key: "number", title: "Setting", names: true, number: true, cell: (one) => one.number },
  { key: "left", title: "Reticle left / div", number: true, cell: (one) => one.reticleLeft },
  { key: "right", title: "Reticle right / div", number: true, cell: (one) => one.reticleRight },
  { key: "lineLeft", title: "Micrometer line left", number: true, cell: (one) => one.lineLeft },
  { key: "lineRight", title: "Micrometer line right", number: true, cell: (one) => one.lineRight },
];

export const BUDGET_COLUMNS: readonly Column<BudgetLine>[] = [
  { key: "name", title: "Component", names: true, cell: (one) => one.name },
  { key: "kind", title: "Distribution", cell: (one) => one.distribution },
  {
    key: "u",
    title: "Standard uncertainty",
    number: true,
    cell: (one) => `${toFour(one.standardUncertainty)} ${one.unit === "1" ? "" : one.unit}`,
  },
  { key: "c", title: "Sensitivity", number: true, cell: (one) => toFour(one.sensitivity) },
  { key: "part", title: "Contribution / µm per div", number: true, cell: (one) => toFour(one.contribution) },
  {
    key: "nu",
    title: "Degrees of freedom",
    number: true,
    cell: (one) => (one.degreesOfFreedom === null ? "∞" : toFour(one.degreesOfFreedom)),
  },
  { key: "share", title: "Share of u²", number: true, cell: (one) => asPercent(one.share) },
];

/** Settings with their numbers, from 1. */
export function settingRows(settings: readonly TypedSetting[]): readonly NumberedSetting[] {
  return settings.map((setting, index) => ({ ...setting, number: index + 1 }));
}
