import { InputError } from "../../quantity/input-error.ts";
import type { Provenance } from "../../vocabulary/provenance.ts";

/** Share of samples that is counted again without sight of the first result. */
export const RECOUNT_SHARE: Provenance & { readonly share: number } = {
  share: 0.1,
  source: "NIOSH Manual of Analytical Methods 7400, quality control step 13: 10 % blind recounts",
  standing: "from memory",
};

/**
 * Chooses samples for a blind recount at random without repetition: the share rounded up, so at least one.
 * @param random gives numbers in [0, 1); passed in because the core has no chance of its own
 * @throws InputError when there is no sample, the share is not in (0, 1], or `random` leaves [0, 1)
 */
export function chooseForRecount<T>(
  samples: readonly T[],
  share: number,
  random: () => number,
): readonly T[] {
  if (samples.length === 0) throw new InputError("samples", "must not be empty");
  if (!(share > 0 && share <= 1)) throw new InputError("share", "must be greater than 0 and at most 1");
  // A product such as 0.1 · 30 may come out above 3 in binary.
  const wanted = Math.ceil(share * samples.length - 1e-9);
  const left = [...samples];
  const chosen: T[] = [];
  while (chosen.length < wanted) {
    const draw = random();
    if (!(draw >= 0 && draw < 1)) throw new InputError("random", "must give numbers from 0 to below 1");
    chosen.push(...left.splice(Math.floor(draw * left.length), 1));
  }
  return chosen;
}
