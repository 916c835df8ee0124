import { AIAG_MSA } from "./cases/aiag-msa.ts";
import { EGG_COUNTS, GRAIN_SIZE, ROOT_TWO_CIRCLES } from "./cases/bench-formulas.ts";
import { CELL_VOLUMES } from "./cases/biovolumes.ts";
import { CALIBRATION_LINES } from "./cases/calibration-lines.ts";
import { CHAMBER_DENSITIES, HAEMOCYTOMETER_TEXTS } from "./cases/chamber-densities.ts";
import { CHART_CONSTANTS, EN_SCORES, FACTOR_CHART, HANDBOOK_CHARTS } from "./cases/control-charts.ts";
import { CONTROL_SAMPLES } from "./cases/control-samples.ts";
import { COUNTING_PRECISION, LUND_SHORTCUT } from "./cases/counting-precision.ts";
import { COVERAGE_TABLES } from "./cases/coverage-tables.ts";
import { DERIVED_CASES, PLANNING_CASES } from "./cases/derived-golden.ts";
import { EA_4_02_BUDGETS } from "./cases/ea-4-02-budgets.ts";
import { AGREEMENT_CASES, FIVE_SETTINGS_CASES } from "./cases/factor-comparisons.ts";
import { FACTOR_BUDGET_CASES, TEN_SPANS_CASES } from "./cases/factor-golden.ts";
import { FACTOR_HISTORY } from "./cases/factor-history.ts";
import { FIBRE_COUNTS, FIBRE_METHOD_FIGURES, FIBRE_STRICTNESS } from "./cases/fibre-counts.ts";
import { FIELD_SCATTER, HAEMOCYTOMETER_FIELDS } from "./cases/field-scatter.ts";
import { GARWOOD_LIMITS } from "./cases/garwood-1936.ts";
import { GOLDEN_PARTICLE_SIZES } from "./cases/golden-particle-sizes.ts";
import { GOLDEN_SAMPLE } from "./cases/golden-sample.ts";
import { GUM_CORRELATED } from "./cases/gum-correlated.ts";
import { GUM_END_GAUGE, GUM_HARDNESS, GUM_TYPE_B, GUM_WELCH_SATTERTHWAITE } from "./cases/gum-uncertainty.ts";
import { JCGM_100_SAMPLES } from "./cases/jcgm-100-samples.ts";
import { GENERATOR_NUMBERS, NUMERICAL_TOLERANCES } from "./cases/jcgm-101.ts";
import { MOMENT_MEANS } from "./cases/moment-means.ts";
import { NELSON_TESTS } from "./cases/nelson-tests.ts";
import { NEWCOMBE_PROPORTIONS } from "./cases/newcombe-1998.ts";
import { NIST_HANDBOOK_FULL, NIST_HANDBOOK_SAMPLES } from "./cases/nist-handbook-samples.ts";
import { NIST_STRD_ANOVA, NIST_STRD_REGRESSION } from "./cases/nist-strd-fits.ts";
import { NIST_STRD_UNIVARIATE } from "./cases/nist-strd-univariate.ts";
import { OPTICS_CASES } from "./cases/optics-golden.ts";
import { OUTLIERS } from "./cases/outliers.ts";
import { AIRBORNE_COUNTS, ERDTMAN_CLASSES, HONEY_CLASSES, MARKER_COUNTS } from "./cases/pollen-and-honey.ts";
import { R_POISSON_TEST } from "./cases/r-poisson-test.ts";
import { READERS } from "./cases/readers.ts";
import { CERTIFICATE_TABLE_CASES, TEACHING_PAGES, TRADE_ARITHMETIC } from "./cases/reticle-arithmetic.ts";
import { ROUNDING_RULE_CASES } from "./cases/rounding-rules.ts";
import { SHARES_OF_SUMS } from "./cases/shares-of-sums.ts";
import { SIZE_CLASS_CASES } from "./cases/size-classes.ts";
import { SIZE_BUDGET_CASES, TRADE_SIZES } from "./cases/size-golden.ts";
import { BAS_CLASSES, SPORE_NOTATION } from "./cases/spores.ts";
import { STUDENT_FIT, STUDENT_YEAST } from "./cases/student-1907.ts";
import { STUDENT_SLEEP } from "./cases/student-sleep.ts";
import type { ReferenceCase } from "./reference-case.ts";

/** Every reference case of the program; a test compares this list with the folder. */
export const ALL_CASES: readonly ReferenceCase[] = [
  ...AIAG_MSA,
  ...EGG_COUNTS,
  ...GRAIN_SIZE,
  ...ROOT_TWO_CIRCLES,
  ...CALIBRATION_LINES,
  ...CELL_VOLUMES,
  ...CHAMBER_DENSITIES,
  ...HAEMOCYTOMETER_TEXTS,
  ...HANDBOOK_CHARTS,
  ...CHART_CONSTANTS,
  ...FACTOR_CHART,
  ...EN_SCORES,
  ...CONTROL_SAMPLES,
  ...COUNTING_PRECISION,
  ...LUND_SHORTCUT,
  ...COVERAGE_TABLES,
  ...DERIVED_CASES,
  ...PLANNING_CASES,
  ...EA_4_02_BUDGETS,
  ...FIVE_SETTINGS_CASES,
  ...AGREEMENT_CASES,
  ...FACTOR_BUDGET_CASES,
  ...TEN_SPANS_CASES,
  ...FACTOR_HISTORY,
  ...FIBRE_COUNTS,
  ...FIBRE_METHOD_FIGURES,
  ...FIBRE_STRICTNESS,
  ...FIELD_SCATTER,
  ...HAEMOCYTOMETER_FIELDS,
  ...GARWOOD_LIMITS,
  ...GOLDEN_PARTICLE_SIZES,
  ...GOLDEN_SAMPLE,
  ...GUM_CORRELATED,
  ...GUM_END_GAUGE,
  ...GUM_HARDNESS,
  ...GUM_WELCH_SATTERTHWAITE,
  ...GUM_TYPE_B,
  ...JCGM_100_SAMPLES,
  ...NUMERICAL_TOLERANCES,
  ...GENERATOR_NUMBERS,
  ...MOMENT_MEANS,
  ...NELSON_TESTS,
  ...NEWCOMBE_PROPORTIONS,
  ...NIST_HANDBOOK_SAMPLES,
  ...NIST_HANDBOOK_FULL,
  ...NIST_STRD_REGRESSION,
  ...NIST_STRD_ANOVA,
  ...NIST_STRD_UNIVARIATE,
  ...OPTICS_CASES,
  ...OUTLIERS,
  ...MARKER_COUNTS,
  ...AIRBORNE_COUNTS,
  ...HONEY_CLASSES,
  ...ERDTMAN_CLASSES,
  ...R_POISSON_TEST,
  ...READERS,
  ...SHARES_OF_SUMS,
  ...TEACHING_PAGES,
  ...TRADE_ARITHMETIC,
  ...CERTIFICATE_TABLE_CASES,
  ...ROUNDING_RULE_CASES,
  ...SIZE_BUDGET_CASES,
  ...SIZE_CLASS_CASES,
  ...TRADE_SIZES,
  ...SPORE_NOTATION,
  ...BAS_CLASSES,
  ...STUDENT_YEAST,
  ...STUDENT_FIT,
  ...STUDENT_SLEEP,
];
