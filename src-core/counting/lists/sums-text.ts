import type { CountCategory } from "../../contract/records/count-method.ts";

type Sums = NonNullable<CountCategory["sums"]>;

/** `Land pollen; (Trees)`: part of the one, outside the other and given as per cent of it. */
export function sumsOfText(text: string): Sums {
  return text
    .split(";")
    .map((one) => one.trim())
    .filter((one) => one !== "")
    .map((one) => {
      const outside = /^\((.*)\)$/.exec(one)?.[1]?.trim();
      return outside === undefined
        ? { name: one, part: "in" as const }
        : { name: outside, part: "of" as const };
    });
}

export function textOfSums(sums: Sums): string {
  return sums.map(({ name, part }) => (part === "in" ? name : `(${name})`)).join("; ");
}
