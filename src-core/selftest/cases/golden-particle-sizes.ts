import { type Decimal, decimal } from "../../quantity/decimal.ts";
import {
  classMoments,
  classParticles,
  cumulativeShares,
  histogram,
  histogramPercentile,
} from "../../statistics/histogram.ts";
import { countedOnce, momentMean, powerSum } from "../../statistics/moment-mean.ts";
import {
  equalLimits,
  geometricLimits,
  preferredLimits,
  proposeClasses,
} from "../../statistics/size-classes.ts";
import {
  type ParticleWeight,
  volumeSpan,
  type WeightedPercentileRule,
  weightedPercentile,
} from "../../statistics/weighted-percentile.ts";
import { S30 } from "../data/golden-sample.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, decimals, rowsOfCases } from "../rows-of-cases.ts";

function moment(p: number, q: number, expected: string): CaseRow {
  return { what: `D[${p},${q}]`, expected, got: () => momentMean(countedOnce(S30), p, q) };
}

const particles = () => countedOnce(S30);
const moments: readonly CaseRow[] = [
  { what: "Σd²", expected: "8050.74", units: "exact", got: () => powerSum(particles(), 2) },
  { what: "Σd³", expected: "148833.246", units: "exact", got: () => powerSum(particles(), 3) },
  { what: "Σd⁴", expected: "2974576.7826", units: "exact", got: () => powerSum(particles(), 4) },
  moment(2, 0, "16.38163605993"),
  moment(3, 0, "17.055307985213"),
  moment(2, 1, "17.0494282083863"),
  moment(3, 1, "17.7536226773655"),
  moment(3, 2, "18.4869025704469"),
  moment(4, 3, "19.9859699532455"),
  moment(4, 0, "17.7449991253342"),
];

const share = (weight: ParticleWeight, p: string, rule: WeightedPercentileRule) =>
  weightedPercentile(S30, weight, decimal(p), rule).value;

function weighted(weight: ParticleWeight, rule: WeightedPercentileRule, printed: string): CaseRow[] {
  return printed.split(" ").map((expected, at) => {
    const p = ["0.1", "0.5", "0.9"][at] ?? "";
    return { what: `by ${weight}, share ${p}, ${rule}`, expected, got: () => share(weight, p, rule) };
  });
}

function span(rule: WeightedPercentileRule): Decimal {
  return volumeSpan(share("volume", "0.1", rule), share("volume", "0.5", rule), share("volume", "0.9", rule));
}

const countsIn = (limits: readonly Decimal[]) =>
  histogram(S30, limits)
    .classes.map(({ count }) => count)
    .join(" ");
const byTwo = () => histogram(S30, equalLimits(decimal(8), decimal(2), 11));
const Q3 = `0.00964630225080386 0.0448705225411192 0.132084209969169 0.266060630119222 0.396080610800153
  0.532220502031149 0.654764267661731 0.735262593783494 0.838639461183227 0.838639461183227 1`;

const classes: readonly CaseRow[] = [
  {
    what: "Sturges: classes",
    expected: "6",
    units: "exact",
    got: () => proposeClasses(S30, "sturges").count,
  },
  { what: "Scott: width", expected: "5.18628661618161", got: () => proposeClasses(S30, "scott").width },
  { what: "Scott: classes", expected: "4", units: "exact", got: () => proposeClasses(S30, "scott").count },
  {
    what: "Freedman–Diaconis: width",
    expected: "3.42748731534999",
    got: () => proposeClasses(S30, "freedman-diaconis").width,
  },
  {
    what: "Freedman–Diaconis: classes",
    expected: "6",
    units: "exact",
    got: () => proposeClasses(S30, "freedman-diaconis").count,
  },
  {
    what: "classes of 2 from 8",
    expected: "2 4 6 6 4 3 2 1 1 0 1",
    units: "exact",
    got: () => countsIn(equalLimits(decimal(8), decimal(2), 11)),
  },
  {
    what: "R10 limits 6.3 to 31.5",
    expected: "0 2 6 10 7 3 2",
    units: "exact",
    got: () => countsIn(decimals("6.3 8 10 12.5 16 20 25 31.5")),
  },
  {
    what: "R10 limits proposed",
    expected: "8 10 12.5 16 20 25 31.5",
    units: "exact",
    got: () => preferredLimits(S30, "R10").join(" "),
  },
  {
    what: "limits 8·10^(j/20)",
    expected: "1 1 3 3 5 5 4 3 3 0 1 1",
    units: "exact",
    got: () => countsIn(geometricLimits(decimal(8), 20, 12)),
  },
  {
    what: "classes of 2: D[1,0]",
    expected: "15.8",
    units: "exact",
    got: () => momentMean(classParticles(byTwo()), 1, 0),
  },
  { what: "classes of 2: s", expected: "4.68600263440549", got: () => classMoments(byTwo()).deviation },
  {
    what: "classes of 2: D[3,2]",
    expected: "18.6002953482648",
    got: () => momentMean(classParticles(byTwo()), 3, 2),
  },
  {
    what: "classes of 2: D[4,3]",
    expected: "20.1034628769534",
    got: () => momentMean(classParticles(byTwo()), 4, 3),
  },
  ...["10.5", "15", "22"].map((expected, at): CaseRow => classShare("number", at, expected)),
  ...["13.2642391139433", "19.5266559751179", "28.7605395875190"].map(
    (expected, at): CaseRow => classShare("volume", at, expected),
  ),
  ...Q3.split(/\s+/).map(
    (expected, at): CaseRow => ({
      what: `Q3 at ${10 + 2 * at}`,
      expected,
      got: () => cumulativeShares(byTwo(), "volume")[at] ?? "none",
    }),
  ),
];

function classShare(weight: ParticleWeight, at: number, expected: string): CaseRow {
  const p = ["0.1", "0.5", "0.9"][at] ?? "";
  return {
    what: `classes of 2: by ${weight}, share ${p}`,
    expected,
    got: () => histogramPercentile(byTwo(), weight, decimal(p)).value,
  };
}

/** The thirty invented diameters as particles: moment means, weighted percentiles, classes. */
export const GOLDEN_PARTICLE_SIZES: readonly ReferenceCase[] = rowsOfCases(
  "golden-sizes",
  "Invented inputs; results recomputed with R 4.2.2",
  "golden",
  [
    ...moments,
    ...weighted("number", "step", "10.3 14.9 21.4"),
    ...weighted("number", "mid-rank", "10.5 15 21.85"),
    ...weighted("surface", "step", "12.1 17.4 28.7"),
    ...weighted("surface", "mid-rank", "12.2378998567478 17.420103388857 27.0516312497887"),
    ...weighted("volume", "step", "13.0 19.3 28.7"),
    ...weighted("volume", "mid-rank", "13.1945157089562 19.178108645961 28.2300775094831"),
    { what: "span, step", expected: "0.813471502590673", got: () => span("step") },
    { what: "span, mid-rank", expected: "0.783996069586008", got: () => span("mid-rank") },
    ...classes,
  ],
);
