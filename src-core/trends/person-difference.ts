import { type Decimal, rootSumOfSquares } from "../quantity/decimal.ts";
import { mean, memberAt } from "../statistics/sample.ts";

/** One calibration against the level of its baseline. */
export interface PersonValue {
  readonly person: string;
  readonly relative: Decimal;
  /** Part of u that is fresh each time, relative. */
  readonly uncertainty: Decimal;
}

export interface PersonDifference {
  readonly a: string;
  readonly b: string;
  /** Mean of a less mean of b. */
  readonly relative: Decimal;
  /** Largest that may be chance: 2·√(u_a² + u_b²), u of each mean. */
  readonly limit: Decimal;
  readonly differs: boolean;
}

/**
 * Compares each person's mean with the first person's. Only what is fresh on each occasion enters, since the micrometer
 * is the same to all (JCGM 100:2008 F.1.2.3; the factor 2 as for an intermediate check).
 */
export function personDifferences(values: readonly PersonValue[]): PersonDifference[] {
  const people = [...new Set(values.map(({ person }) => person))];
  const of = (person: string) => {
    const own = values.filter((one) => one.person === person);
    return {
      centre: mean(own.map(({ relative }) => relative)),
      u: rootSumOfSquares(own.map(({ uncertainty }) => uncertainty)).div(own.length),
    };
  };
  return people.slice(1).map((b) => {
    const a = memberAt(people, 0);
    const [first, second] = [of(a), of(b)];
    const relative = first.centre.minus(second.centre);
    const limit = rootSumOfSquares([first.u, second.u]).times(2);
    return { a, b, relative, limit, differs: relative.abs().greaterThan(limit) };
  });
}
