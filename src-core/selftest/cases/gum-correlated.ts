import { type Decimal, decimal, ONE, ZERO } from "../../quantity/decimal.ts";
import { mean, standardDeviation } from "../../statistics/sample.ts";
import { correlatedCovariance, correlatedUncertainty } from "../../uncertainty/combine.ts";
import { JCGM_100 } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { decimals, rowsOfCases } from "../rows-of-cases.ts";

/** Five simultaneous observations: voltage (V), current (A), phase (rad). */
const VOLTAGE = decimals("5.007 4.994 5.005 4.990 4.999");
const CURRENT = decimals("0.019663 0.019639 0.019640 0.019685 0.019678");
const PHASE = decimals("1.0456 1.0438 1.0468 1.0428 1.0433");
const INPUTS = [VOLTAGE, CURRENT, PHASE];

const MEANS = INPUTS.map((values) => mean(values));
const ROOT_5 = decimal(5).sqrt();
const OF_MEAN = INPUTS.map((values) => standardDeviation(values).div(ROOT_5));

function correlation(first: readonly Decimal[], second: readonly Decimal[]): Decimal {
  const a = mean(first);
  const b = mean(second);
  const cross = first.reduce((sum, x, i) => sum.plus(x.minus(a).times((second[i] ?? b).minus(b))), ZERO);
  return cross.div(first.length - 1).div(standardDeviation(first).times(standardDeviation(second)));
}

const CORRELATIONS = INPUTS.map((row, i) =>
  INPUTS.map((column, j) => (i === j ? ONE : correlation(row, column))),
);

const [V = ONE, I = ONE, PHI = ONE] = MEANS;
const Z = V.div(I);
const COS = PHI.cos();
const SIN = PHI.sin();
/** ∂/∂V, ∂/∂I, ∂/∂φ of resistance, reactance and impedance. */
const OF_R = [COS.div(I), Z.times(COS).div(I).negated(), Z.times(SIN).negated()];
const OF_X = [SIN.div(I), Z.times(SIN).div(I).negated(), Z.times(COS)];
const OF_Z = [ONE.div(I), Z.div(I).negated(), ZERO];

const u = (partials: readonly Decimal[]): Decimal => correlatedUncertainty(partials, OF_MEAN, CORRELATIONS);
function between(first: readonly Decimal[], second: readonly Decimal[]): Decimal {
  return correlatedCovariance(first, second, OF_MEAN, CORRELATIONS).div(u(first).times(u(second)));
}
const at = (values: readonly Decimal[], index: number): Decimal => values[index] ?? ZERO;

/** JCGM 100:2008 H.2: resistance and reactance from simultaneous observations, with correlated inputs and outputs. */
export const GUM_CORRELATED: readonly ReferenceCase[] = rowsOfCases(
  "gum-h2",
  `${JCGM_100}, H.2, Tables H.2 to H.4`,
  "published",
  [
    { what: "mean voltage, V", expected: "4.9990", got: () => V },
    { what: "mean current, mA", expected: "19.6610", got: () => I.times(1000) },
    { what: "mean phase, rad", expected: "1.04446", got: () => PHI },
    { what: "s of the mean voltage, V", expected: "0.0032", got: () => at(OF_MEAN, 0) },
    { what: "s of the mean current, mA", expected: "0.0095", got: () => at(OF_MEAN, 1).times(1000) },
    { what: "s of the mean phase, rad", expected: "0.00075", got: () => at(OF_MEAN, 2) },
    {
      what: "correlation of voltage and current",
      expected: "-0.36",
      got: () => correlation(VOLTAGE, CURRENT),
    },
    { what: "correlation of voltage and phase", expected: "0.86", got: () => correlation(VOLTAGE, PHASE) },
    { what: "correlation of current and phase", expected: "-0.65", got: () => correlation(CURRENT, PHASE) },
    { what: "resistance, Ω", expected: "127.732", got: () => Z.times(COS) },
    { what: "u of the resistance, Ω", expected: "0.071", got: () => u(OF_R) },
    { what: "reactance, Ω", expected: "219.847", got: () => Z.times(SIN) },
    // The print 0.295 truncates 0.29558.
    { what: "u of the reactance, Ω", expected: "0.295", units: 1, got: () => u(OF_X) },
    { what: "impedance, Ω", expected: "254.260", got: () => Z },
    { what: "u of the impedance, Ω", expected: "0.236", got: () => u(OF_Z) },
    { what: "correlation of resistance and reactance", expected: "-0.588", got: () => between(OF_R, OF_X) },
    { what: "correlation of resistance and impedance", expected: "-0.485", got: () => between(OF_R, OF_Z) },
    { what: "correlation of reactance and impedance", expected: "0.993", got: () => between(OF_X, OF_Z) },
  ],
);
