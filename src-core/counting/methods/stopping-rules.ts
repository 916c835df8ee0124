import { LOUVEAUX, NIOSH_7400, NO_SOURCE } from "../../vocabulary/literature.ts";
import type { NamedStoppingRule } from "./stopping-rule.ts";

/** Stopping rules that methods and practice name; a laboratory may keep its own. */
export const STOPPING_RULES = [
  {
    id: "niosh-7400-a",
    name: "100 fibres and 20 fields, or 100 fields",
    rule: {
      kind: "any",
      rules: [
        {
          kind: "all",
          rules: [
            { kind: "units", atLeast: 100 },
            { kind: "fields", atLeast: 20 },
          ],
        },
        { kind: "fields", atLeast: 100 },
      ],
    },
    source: `${NIOSH_7400}, A counting rules, as a public laboratory gives them`,
    standing: "published",
  },
  {
    id: "niosh-7400-b",
    name: "200 fibre ends and 20 fields, or 100 fields",
    rule: {
      kind: "any",
      rules: [
        {
          kind: "all",
          rules: [
            { kind: "units", atLeast: 200 },
            { kind: "fields", atLeast: 20 },
          ],
        },
        { kind: "fields", atLeast: 100 },
      ],
    },
    source: `${NIOSH_7400}, Appendix B`,
    standing: "from memory",
  },
  {
    id: "pollen-500-marker-20",
    name: "500 grains and 20 marker spores",
    rule: {
      kind: "all",
      rules: [
        { kind: "units", atLeast: 500 },
        { kind: "marker", atLeast: 20 },
      ],
    },
    source: `${NO_SOURCE}: 500 arboreal or terrestrial grains, more below 20 marker spores`,
    standing: "common practice",
  },
  {
    id: "honey-300",
    name: "300 grains, for frequency classes",
    rule: { kind: "units", atLeast: 300 },
    source: `${LOUVEAUX}: 200 to 300 grains for classes, as honey pollen texts give it`,
    standing: "from memory",
  },
  {
    id: "honey-500",
    name: "500 grains, for percentages",
    rule: { kind: "units", atLeast: 500 },
    source: `${NO_SOURCE}: 500 to 1000 grains where percentages are wanted`,
    standing: "common practice",
  },
  {
    id: "plankton-400",
    name: "400 units",
    rule: { kind: "units", atLeast: 400 },
    source: "J. W. G. Lund, C. Kipling and E. D. Le Cren, Hydrobiologia 11 (1958) 143: ± 10 % by 2/√n",
    standing: "from memory",
  },
  {
    id: "plankton-300-cells",
    name: "300 cells",
    rule: { kind: "units", atLeast: 300 },
    source: `${NO_SOURCE}: at least 300 cells of a plankton sample`,
    standing: "common practice",
  },
  {
    id: "scatter-20-percent",
    name: "interval of ± 20 %, by the scatter between fields",
    rule: {
      kind: "all",
      rules: [
        { kind: "fields", atLeast: 10 },
        { kind: "interval", relativeHalfWidth: 0.2, level: 0.95 },
      ],
    },
    source:
      "K. Salonen, P. Salmi and J. Keskitalo (2021): stop when the wanted width is reached; width and fields chosen here",
    standing: "own",
  },
] as const satisfies readonly NamedStoppingRule[];
