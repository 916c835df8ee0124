import type { Decimal } from "../../quantity/decimal.ts";
import { decimals } from "../rows-of-cases.ts";

/** NIST StRD, analysis of variance, SiRstv.dat: silicon resistivity by five instruments, five readings each. */
export const SIRSTV: readonly (readonly Decimal[])[] = [
  "196.3052 196.1240 196.1890 196.2569 196.3403",
  "196.3042 196.3825 196.1669 196.3257 196.0422",
  "196.1303 196.2005 196.2889 196.0343 196.1811",
  "196.2795 196.1748 196.1494 196.1485 195.9885",
  "196.2119 196.1051 196.1850 196.0052 196.2090",
].map(decimals);
