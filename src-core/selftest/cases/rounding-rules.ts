import { decimal } from "../../quantity/decimal.ts";
import {
  formatToPlaces,
  type RoundingRule,
  reportWithUncertainty,
  roundToSignificant,
} from "../../quantity/rounding.ts";
import { JCGM_100 } from "../../vocabulary/literature.ts";
import type { ReferenceCase } from "../reference-case.ts";
import { type CaseRow, rowsOfCases } from "../rows-of-cases.ts";

const significant = (value: string, digits: number, expected: string): CaseRow => ({
  what: `${value} to ${digits} significant digits`,
  expected,
  units: "exact",
  got: () => roundToSignificant(decimal(value), digits),
});

function places(value: string, digits: number, even: string, up: string): CaseRow[] {
  const row = (rule: RoundingRule, expected: string): CaseRow => ({
    what: `${value} to ${digits} places, ${rule}`,
    expected,
    units: "exact",
    got: () => formatToPlaces(decimal(value), digits, rule),
  });
  return [row("half-even", even), row("half-up", up)];
}

const shownU = (expanded: string, digits: 1 | 2, expected: string): CaseRow => ({
  what: `U = ${expanded} to ${digits} digit${digits === 1 ? "" : "s"}`,
  expected,
  units: "exact",
  got: () => reportWithUncertainty(decimal(1), decimal(expanded), "half-even", digits).uncertainty,
});

export const ROUNDING_RULE_CASES: readonly ReferenceCase[] = [
  ...rowsOfCases(
    "sp811-b71",
    "A. Thompson and B. N. Taylor: Guide for the Use of the International System of Units, NIST Special Publication 811 (2008), B.7.1",
    "published",
    [
      significant("6.9749515", 3, "6.97"),
      significant("6.9749515", 5, "6.9750"),
      significant("6.9749515", 7, "6.974952"),
      significant("6.9749505", 7, "6.974950"),
    ],
  ),
  ...rowsOfCases("gum-726", `${JCGM_100}, 7.2.6`, "published", [
    {
      what: "10.057 62 Ω with u = 27 mΩ",
      expected: "10.058",
      units: "exact",
      got: () => reportWithUncertainty(decimal("10.05762"), decimal("0.027")).value,
    },
  ]),
  ...rowsOfCases("ea-4-02-6", "EA-4/02 6.3, rounding that would lower U by more than 5 %", "from memory", [
    shownU("0.1449", 1, "0.2"),
    shownU("0.10499", 2, "0.10"),
  ]),
  ...rowsOfCases("u-two-digits", "U to two significant digits, JCGM 100:2008 7.2.6", "golden", [
    shownU("0.006332", 2, "0.0063"),
    shownU("0.00646", 2, "0.0065"),
    shownU("0.4233", 2, "0.42"),
  ]),
  ...rowsOfCases(
    "iso-80000-1-b",
    "ISO 80000-1:2009 Annex B rules A and B on decimal digits; ties chosen where binary numbers go wrong",
    "golden",
    [
      ...places("2.675", 2, "2.68", "2.68"),
      ...places("1.005", 2, "1.00", "1.01"),
      ...places("0.285", 2, "0.28", "0.29"),
      ...places("1.15", 1, "1.2", "1.2"),
      ...places("25.25", 1, "25.2", "25.3"),
      ...places("25.35", 1, "25.4", "25.4"),
      ...places("2.5", 0, "2", "3"),
      ...places("-2.5", 0, "-2", "-3"),
      ...places("0.125", 2, "0.12", "0.13"),
      ...places("45.745", 2, "45.74", "45.75"),
    ],
  ),
];
