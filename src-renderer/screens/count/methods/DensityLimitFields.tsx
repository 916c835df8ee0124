import type { CountCategory, DensityLimit } from "#core/contract/records/count-method.ts";
import { DECISION_RULES, type DecisionRule } from "#core/vocabulary/decision-rules.ts";
import { Button } from "../../../parts/Button.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import styles from "../CountTab.module.css";

export interface DensityLimitFieldsProps {
  readonly id: string;
  readonly limits: readonly DensityLimit[];
  readonly categories: readonly CountCategory[];
  readonly onChange: (limits: readonly DensityLimit[]) => void;
  /** What is wrong, by the path of its field: `densityLimits.0.upper`. */
  readonly problems: Readonly<Record<string, string>>;
}

const RULES: Readonly<Record<DecisionRule, string>> = {
  "simple-acceptance": "the density itself keeps it",
  "guarded-acceptance": "the density with its U keeps it",
};
const RULE_CHOICES = DECISION_RULES.map((value) => ({ value, words: RULES[value] }));
const NEW: DensityLimit = { of: "total", lower: "", upper: "", rule: "simple-acceptance" };

/** Limits that the densities of a method are held against, each with the rule that decides. */
export function DensityLimitFields(props: DensityLimitFieldsProps) {
  const { id, limits, categories, onChange, problems } = props;
  const reported = categories.filter(({ kind, reported: too }) => kind === "object" || too);
  const of = [
    { value: "total", words: "the total" },
    ...reported.map(({ key, name }) => ({ value: key, words: name })),
  ];
  const changed = (at: number, change: Partial<DensityLimit>): void =>
    onChange(limits.map((one, i) => (i === at ? { ...one, ...change } : one)));
  return (
    <fieldset>
      <legend className={styles.legend}>Limits of the density</legend>
      {limits.map((limit, at) => {
        const bind = (key: "lower" | "upper", label: string) => ({
          id: `${id}-${at}-${key}`,
          label,
          value: limit[key],
          onChange: (value: string) => changed(at, { [key]: value }),
          error: problems[`densityLimits.${at}.${key}`],
        });
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: limits have no name but their place
          <div key={at} className={styles.stack}>
            <SelectField
              id={`${id}-${at}-of`}
              label={`Limit ${at + 1} is of`}
              value={limit.of}
              choices={of}
              onChange={(value) => changed(at, { of: value })}
            />
            <NumberField {...bind("lower", "At least")} optional />
            <NumberField {...bind("upper", "At most")} optional />
            <SelectField
              id={`${id}-${at}-rule`}
              label="It conforms when"
              value={limit.rule}
              choices={RULE_CHOICES}
              onChange={(value) =>
                changed(at, { rule: DECISION_RULES.find((one) => one === value) ?? "simple-acceptance" })
              }
            />
            <Button look="quiet" onClick={() => onChange(limits.filter((_, i) => i !== at))}>
              Take limit {at + 1} away
            </Button>
          </div>
        );
      })}
      <Button look="quiet" onClick={() => onChange([...limits, NEW])}>
        Add a limit
      </Button>
    </fieldset>
  );
}
