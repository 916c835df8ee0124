import type { Decimal } from "../../quantity/decimal.ts";
import { gaugeStudy, type StudyComponents } from "../../statistics/gauge-study.ts";
import { AIAG } from "../data/aiag.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { rowsOfCases } from "../rows-of-cases.ts";

const anova = () => gaugeStudy(AIAG);
const parts = () => anova().components;

function percentOfTotal(
  components: StudyComponents,
  of: "repeatability" | "readers" | "measurement" | "specimens",
): Decimal {
  return components[of].div(components.total).times(100);
}

function categories(components: StudyComponents): number | string {
  return components.distinctCategories?.floor().toNumber() ?? "none";
}

const BOOK = "AIAG: Measurement Systems Analysis, 4th edition (2010), crossed study";

/** A part stands for a specimen, an appraiser for a reader, a trial for a repeated reading. */
export const AIAG_MSA: readonly ReferenceCase[] = [
  ...rowsOfCases("aiag-anova", BOOK, "published", [
    { what: "SS of parts", expected: "88.3619344444", got: () => anova().specimen.squares },
    { what: "SS of appraisers", expected: "3.1672622222", got: () => anova().reader.squares },
    { what: "SS of interaction", expected: "0.3589822222", got: () => anova().interaction.squares },
    { what: "SS of error", expected: "2.7589333333", got: () => anova().error.squares },
    { what: "df of interaction", expected: "18", units: "exact", got: () => anova().interaction.degrees },
    { what: "df of error", expected: "60", units: "exact", got: () => anova().error.degrees },
  ]),
  ...rowsOfCases("aiag-full", `${BOOK}: its data, results recomputed outside the program`, "golden", [
    { what: "interaction: p", expected: "0.974106404", got: () => anova().interactionP },
    {
      what: "interaction joins the error",
      expected: "true",
      units: "exact",
      got: () => String(anova().pooled),
    },
    { what: "distinct categories", expected: "4", units: "exact", got: () => categories(parts()) },
    { what: "pooled MSE", expected: "0.0399732763532763", got: () => anova().repeatability.meanSquare },
    { what: "EV", expected: "0.199933179720817", got: () => parts().repeatability },
    { what: "AV", expected: "0.226837521496322", got: () => parts().readers },
    { what: "GRR", expected: "0.302371522322905", got: () => parts().measurement },
    { what: "PV", expected: "1.04232749383803", got: () => parts().specimens },
    { what: "TV", expected: "1.08529956321863", got: () => parts().total },
    {
      what: "EV, % of TV",
      expected: "18.4219349658524",
      got: () => percentOfTotal(parts(), "repeatability"),
    },
    { what: "AV, % of TV", expected: "20.9009133684343", got: () => percentOfTotal(parts(), "readers") },
    { what: "GRR, % of TV", expected: "27.8606508811423", got: () => percentOfTotal(parts(), "measurement") },
    { what: "PV, % of TV", expected: "96.0405337994282", got: () => percentOfTotal(parts(), "specimens") },
    { what: "1.41·PV/GRR", expected: "4.86051647662158", got: () => parts().distinctCategories ?? "none" },
    { what: "F of parts, pooled", expected: "245.613910385524", got: () => anova().specimenF },
    { what: "F of appraisers, pooled", expected: "39.6172457097405", got: () => anova().readerF },
    { what: "F of parts, not pooled", expected: "213.51714", got: () => gaugeStudy(AIAG, 0.99).specimenF },
    { what: "F of appraisers, not pooled", expected: "34.44007", got: () => gaugeStudy(AIAG, 0.99).readerF },
    {
      what: "interaction, not pooled: negative, so 0",
      expected: "0",
      got: () => gaugeStudy(AIAG, 0.99).components.interaction,
    },
  ]),
];
