import type { DecisionRule } from "#core/vocabulary/decision-rules.ts";
import type { AmountBasis, SizeCounting } from "#core/vocabulary/size-classes.ts";

export const SIZE_COUNTING_WORDS: Readonly<Record<SizeCounting, string>> = {
  "at-least": "everything from its limit on",
  between: "what lies from its limit to below the next",
};

export const AMOUNT_BASIS_WORDS: Readonly<Record<AmountBasis, string>> = {
  sheet: "for the sheet as a whole",
  container: "per container",
  mL: "per mL tested",
};

export const NUMBER_RULE_CHOICE_WORDS: Readonly<Record<DecisionRule, string>> = {
  "simple-acceptance": "the number itself keeps it",
  "guarded-acceptance": "its upper 95 % limit keeps it",
};
