import type { Decimal } from "../../quantity/decimal.ts";
import { decimals } from "../rows-of-cases.ts";

/** NIST Statistical Reference Datasets, univariate summary statistics, Mavro.dat: 50 readings of the transmittance of a filter. */
export const MAVRO: readonly Decimal[] = decimals(`
2.0018 2.0017 2.0018 2.0019 2.0018 2.0017 2.0015 2.0014 2.0015 2.0015 2.0017 2.0018 2.0018 2.0019 2.0019
2.0021 2.002 2.0016 2.0014 2.0013 2.0013 2.0015 2.0015 2.0016 2.0015 2.0014 2.0013 2.0014 2.0015 2.0014
2.0015 2.0016 2.0015 2.0016 2.0019 2.002 2.002 2.0021 2.0022 2.0023 2.0024 2.0025 2.0027 2.0026 2.0026
2.0026 2.0027 2.0026 2.0025 2.0024
`);
