import { InputError } from "../../quantity/input-error.ts";
import { productOf, quotientOf, type UncertainProduct } from "../../quantity/uncertain-product.ts";

/**
 * Particles per container or mL that one counted particle stands for, A_T/(A_P·n): A_P of the filter's effective area A_T
 * was looked at, and what n containers or mL held lies on it. The scaling of USP <788>, method 2; from memory.
 * @throws InputError when the part is more than the filter
 */
export function perObjectOnFilter(
  part: UncertainProduct,
  filter: UncertainProduct,
  amount: UncertainProduct,
  unit: string,
): UncertainProduct {
  if (part.value.greaterThan(filter.value)) {
    throw new InputError("fields", "cover more than the effective area of the filter");
  }
  return quotientOf(filter, productOf(part, amount, ""), unit);
}
