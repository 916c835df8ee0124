import type { Decimal } from "../../quantity/decimal.ts";
import { decimals } from "../rows-of-cases.ts";

/** Invented inputs: thirty diameters in µm. */
export const S30: readonly Decimal[] = decimals(`
12.4 15.1 9.8 18.7 22.3 14.6 11.2 16.9 13.5 20.1 10.7 17.4 15.8 12.9 25.6 14.1 19.3 11.9 16.2 13.0 21.4
8.9 15.5 18.0 12.1 28.7 14.9 17.1 10.3 13.8
`);
