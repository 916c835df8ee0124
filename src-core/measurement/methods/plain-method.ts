import type { MethodDefinition } from "../../contract/records/method.ts";

/** What a method says beyond its dimensions when it is a plain length read at two edges, once. */
export const PLAIN_METHOD: Pick<
  MethodDefinition,
  "entry" | "repeats" | "wantedPercent" | "derived" | "classes" | "percentiles" | "report"
> = {
  entry: "two-edges",
  repeats: 1,
  wantedPercent: "",
  derived: [],
  classes: [],
  percentiles: { type: 7, lower: "10", upper: "90" },
  report: { kind: "none", places: 1, ratioPlaces: 2 },
};
