import { focusDepth } from "#core/measurement/focus-depth.ts";
import { meanLengthUncertainty } from "#core/measurement/mean-length.ts";
import { stageDistance } from "#core/measurement/stage-vernier.ts";
import { grainSizeNumber, grainSizeSensitivity, meanIntercept } from "#core/methods/grain-size.ts";
import { type Decimal, ZERO } from "#core/quantity/decimal.ts";
import { formatToPlaces, roundToSignificant } from "#core/quantity/rounding.ts";
import type { Uncertainty } from "#core/uncertainty/uncertainty.ts";
import {
  type BenchTrain,
  type Calculator,
  type CalculatorField,
  relativeFactor,
  withU,
} from "./calculator.ts";

const SAMPLE_FIELDS: readonly CalculatorField[] = [
  { key: "mean", label: "Mean", unit: "µm" },
  { key: "deviation", label: "Standard deviation s", unit: "µm", rule: { sign: "not negative" } },
  {
    key: "count",
    label: "Number of objects n",
    rule: { sign: "positive", whole: true },
    hint: "At least 2. Only the scatter shrinks with n; the factor and the edges are the same in every object.",
  },
  {
    key: "edges",
    label: "u of a size from its edges",
    unit: "µm",
    rule: { sign: "not negative" },
    usual: "0",
    hint: "Where edges are biased alike on every object.",
  },
];

function uncertaintyOfMean(value: (key: string) => Decimal, train: BenchTrain | null): Uncertainty {
  const factor = train ? relativeFactor(train) : { relative: ZERO, degreesOfFreedom: null };
  return meanLengthUncertainty({
    deviation: value("deviation"),
    count: value("count").toNumber(),
    factorUncertainty: factor.relative.times(value("mean")),
    factorDegreesOfFreedom: factor.degreesOfFreedom,
    edgeUncertainty: value("edges"),
    edgeDegreesOfFreedom: null,
    coverage: "t95",
  });
}

const NO_FACTOR: readonly (readonly [string, string])[] = [
  ["Left out", "the factor: choose the objective it was measured with"],
];

const mean: Calculator = {
  id: "mean",
  title: "Mean of a sample, with U",
  source: "u² = s²/n + (mean · u(f)/f)² + u(edges)²: JCGM 100:2008 4.2.3 and 5.2.2",
  train: "helps",
  fields: SAMPLE_FIELDS,
  work: (value, train) => [
    ["Mean ± U", withU(value("mean"), uncertaintyOfMean(value, train), "µm")],
    ...(train ? [] : NO_FACTOR),
  ],
};

const E112 = "ASTM E112: G = −6.643856 · log₁₀(mean intercept / mm) − 3.288; from memory";
const E112_CAUTION = "The standard in force decides on fields, lines and how many intercepts are enough.";

const grain: Calculator = {
  id: "grain",
  title: "Grain size number from measured intercepts, with U",
  source: `${E112}; U by JCGM 100:2008 5.1.2`,
  caution: E112_CAUTION,
  train: "helps",
  fields: SAMPLE_FIELDS.map((field) =>
    field.key === "mean" ? { ...field, label: "Mean intercept" } : field,
  ),
  work: (value, train) => {
    const intercept = value("mean").div(1000);
    const of = uncertaintyOfMean(value, train);
    const expanded = grainSizeSensitivity(intercept).abs().times(of.expanded.div(1000));
    return [
      ["Mean intercept ± U", withU(value("mean"), of, "µm")],
      ["Grain size number G ± U", withU(grainSizeNumber(intercept), { expanded }, "")],
      ...(train ? [] : NO_FACTOR),
    ];
  },
};

const grainCounted: Calculator = {
  id: "grain-counted",
  title: "Grain size number from counted intercepts",
  source: E112,
  caution: `${E112_CAUTION} One count has no U of its own: repeat it on several fields.`,
  train: "none",
  fields: [
    { key: "lineLength", label: "Length of the test lines at the specimen", unit: "mm" },
    {
      key: "intercepts",
      label: "Intercepts counted",
      hint: "A line that ends within a grain counts one half.",
    },
  ],
  work: (value) => {
    const intercept = meanIntercept(value("lineLength"), value("intercepts"));
    return [
      ["Mean intercept", `${roundToSignificant(intercept.times(1000), 4).toFixed()} µm`],
      ["Grain size number G", formatToPlaces(grainSizeNumber(intercept), 2)],
    ];
  },
};

const indexField = (key: string, label: string, usual: string, hint: string): CalculatorField[] => [
  { key, label, usual, hint },
  { key: `${key}HalfWidth`, label: `${label}, ±`, rule: { sign: "not negative" }, usual: "0.01" },
];

const depth: Calculator = {
  id: "depth",
  title: "Thickness by focusing, with U",
  source: "Drum travel times n(mount) over n(towards the objective): textbooks of microscopy, from memory",
  caution:
    "For rays near the axis. With high apertures it is an approximation; come to both surfaces from the same side.",
  train: "none",
  fields: [
    { key: "upper", label: "Drum at the upper surface", unit: "drum div", rule: {} },
    { key: "lower", label: "Drum at the lower surface", unit: "drum div", rule: {} },
    {
      key: "perDivision",
      label: "Travel per drum division",
      unit: "µm",
      usual: "1",
      hint: "The drum's own factor: as the maker says, or from a step of known height.",
    },
    {
      key: "drumStep",
      label: "Smallest step read on the drum",
      unit: "drum div",
      rule: { sign: "not negative" },
      usual: "0.5",
    },
    {
      key: "focusing",
      label: "Standard deviation of finding one surface",
      unit: "µm",
      rule: { sign: "not negative" },
      hint: "About half the depth of field.",
    },
    ...indexField(
      "mountIndex",
      "Refractive index of the mount",
      "1.515",
      "Water 1.333, glycerol 1.47, resin and oil about 1.52.",
    ),
    ...indexField(
      "immersionIndex",
      "Refractive index towards the objective",
      "1.000",
      "Dry 1.000, oil 1.515.",
    ),
  ],
  work: (value) => {
    const perDivision = value("perDivision");
    const found = focusDepth({
      upper: value("upper").times(perDivision),
      lower: value("lower").times(perDivision),
      drumStep: value("drumStep").times(perDivision),
      focusing: value("focusing"),
      mountIndex: value("mountIndex"),
      mountIndexHalfWidth: value("mountIndexHalfWidth"),
      immersionIndex: value("immersionIndex"),
      immersionIndexHalfWidth: value("immersionIndexHalfWidth"),
      coverage: "k2",
    });
    return [
      ["Travel of the drum", `${roundToSignificant(found.drumTravel, 5).toFixed()} µm`],
      ["Thickness ± U", withU(found.depth, found.uncertainty, "µm")],
    ];
  },
};

const point = (key: string, label: string): CalculatorField => ({ key, label, unit: "mm", rule: {} });

const stage: Calculator = {
  id: "stage",
  title: "Distance of two points by the stage verniers, with U",
  source: "√(Δx² + Δy²), each reading with its step and setting: JCGM 100:2008 5.1.2",
  caution:
    "For objects longer than the scale. The stage's own scale is not calibrated unless you have done so.",
  train: "none",
  fields: [
    point("fromX", "First point, x"),
    point("fromY", "First point, y"),
    point("toX", "Second point, x"),
    point("toY", "Second point, y"),
    {
      key: "vernierStep",
      label: "Step of the vernier",
      unit: "mm",
      rule: { sign: "not negative" },
      usual: "0.1",
    },
    {
      key: "setting",
      label: "Standard deviation of setting one point",
      unit: "mm",
      rule: { sign: "not negative" },
      usual: "0.02",
    },
    {
      key: "scalePercent",
      label: "Doubt of the stage's scale, ±",
      unit: "%",
      rule: { sign: "not negative" },
      usual: "0.2",
    },
  ],
  work: (value) => {
    const { distanceUm, uncertainty } = stageDistance({
      from: { x: value("fromX"), y: value("fromY") },
      to: { x: value("toX"), y: value("toY") },
      vernierStep: value("vernierStep"),
      setting: value("setting"),
      scaleHalfWidth: value("scalePercent").div(100),
      coverage: "k2",
    });
    return [["Distance ± U", withU(distanceUm, uncertainty, "µm")]];
  },
};

export const LENGTH_CALCULATORS: readonly Calculator[] = [mean, grain, grainCounted, depth, stage];
