import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type DecimalText, textOfDecimal } from "#core/quantity/decimal-text.ts";

interface Expansion {
  /** Linear expansion, 1/K, and half-width of its doubt. */
  readonly expansion: DecimalText;
  readonly halfWidth: DecimalText;
}

const of = (expansion: string, halfWidth: string): Expansion => ({
  expansion: textOfDecimal(decimal(expansion)),
  halfWidth: textOfDecimal(decimal(halfWidth)),
});

/**
 * Linear expansion near room temperature, per kelvin: typical handbook values (soda-lime glass 9.1·10⁻⁶, borosilicate
 * glass 3.3·10⁻⁶, fused silica 0.55·10⁻⁶), each ± 1·10⁻⁶ for the spread between kinds and makers (common practice, no
 * source). For a substrate nobody knows: 5·10⁻⁶ ± 5·10⁻⁶, which covers all three.
 */
export const SUBSTRATE_EXPANSION: Readonly<Record<StageMicrometer["substrate"], Expansion>> = {
  "soda-lime glass": of("0.0000091", "0.000001"),
  "borosilicate glass": of("0.0000033", "0.000001"),
  "fused silica": of("0.00000055", "0.000001"),
  other: of("0.000005", "0.000005"),
};
