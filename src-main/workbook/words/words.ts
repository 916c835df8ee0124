/** What the choices of a method mean, as printed. */
export const ROUNDING_WORDS = {
  "half-even":
    "half to even: a 5 with nothing behind it goes to the even digit (ISO 80000-1:2009 Annex B, rule A)",
  "half-up": "half up: a 5 with nothing behind it goes away from zero (ISO 80000-1:2009 Annex B, rule B)",
} as const;

export const COVERAGE_WORDS = {
  t95: "95 %: k is Student's t at the effective degrees of freedom, truncated (JCGM 100:2008 G.4.1, G.6.4)",
  k2: "k = 2 whatever the degrees of freedom; about 95 % when they are many",
} as const;
