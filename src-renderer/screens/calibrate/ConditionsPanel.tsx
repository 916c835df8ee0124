import { useState } from "react";
import { DEFAULT_CONDITIONS } from "#core/calibration/default-conditions.ts";
import type { NumericCondition, TypedConditions } from "#core/contract/records/calibration.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { COVERAGE_RULES, FACTOR_ESTIMATORS } from "#core/vocabulary/calibration.ts";
import { Button } from "../../parts/Button.tsx";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationDraft } from "./calibration-draft.ts";

interface ConditionField {
  readonly key: NumericCondition;
  readonly label: string;
  readonly unit: string;
}

const FIELDS: readonly ConditionField[] = [
  { key: "smallestFraction", label: "Smallest fraction read", unit: "div" },
  { key: "temperature", label: "Temperature", unit: "°C" },
  { key: "temperatureHalfWidth", label: "Temperature, half-width", unit: "K" },
  { key: "expansion", label: "Thermal expansion of the glass", unit: "1/K" },
  { key: "expansionHalfWidth", label: "Thermal expansion, half-width", unit: "1/K" },
  { key: "micrometerDriftHalfWidth", label: "Change since the certificate, half-width", unit: "µm" },
  { key: "alignmentHalfAngle", label: "Angle between the scales, largest", unit: "°" },
  { key: "fieldDistortionHalfWidth", label: "Distortion over the field, relative half-width", unit: "" },
  { key: "trainHalfWidth", label: "Seating and person’s settings, relative half-width", unit: "" },
  { key: "trainDoubt", label: "How well the last figure is known, relative", unit: "" },
];

const ESTIMATOR_WORDS: Readonly<Record<(typeof FACTOR_ESTIMATORS)[number], string>> = {
  "origin-regression": "line through the origin",
  "mean-of-ratios": "mean of the ratios",
};
const COVERAGE_WORDS: Readonly<Record<(typeof COVERAGE_RULES)[number], string>> = {
  t95: "Student’s t, 95 %",
  k2: "k = 2",
};

export interface ConditionsPanelProps {
  readonly draft: CalibrationDraft;
  readonly problems: Readonly<Record<string, string>>;
  readonly readOnly: boolean;
  readonly onChange: (draft: CalibrationDraft) => void;
}

/** Everything beside the readings, with its stated default and why. */
export function ConditionsPanel({ draft, problems, readOnly, onChange }: ConditionsPanelProps) {
  const hasProblem = Object.keys(problems).some((path) => path.startsWith("conditions."));
  const [wanted, setOpen] = useState(false);
  // What is wrong is never folded away.
  const isOpen = wanted || hasProblem;
  return (
    <Panel
      title="Conditions"
      lead={
        isOpen
          ? "Each has a stated default; type better where you know better, or 0 to leave it out."
          : changedWords(draft.conditions)
      }
      actions={
        <Button look="quiet" aria-expanded={isOpen} disabled={hasProblem} onClick={() => setOpen(!isOpen)}>
          {isOpen ? "Fold away" : "Show them"}
        </Button>
      }
    >
      {isOpen ? null : <p className={styles.soft}>{valuesWords(draft)}</p>}
      <div hidden={!isOpen}>
        <FieldGrid>
          {FIELDS.map(({ key, label, unit }) => {
            const fallback = DEFAULT_CONDITIONS[key];
            return (
              <NumberField
                key={key}
                id={`condition-${key}`}
                label={label}
                unit={unit}
                value={draft.conditions[key]}
                disabled={readOnly}
                error={problems[`conditions.${key}`]}
                hint={`${fallback.value} unless you know better. ${fallback.why}`}
                onChange={(value) =>
                  onChange({ ...draft, conditions: { ...draft.conditions, [key]: value } })
                }
              />
            );
          })}
        </FieldGrid>
        <div className={styles.choices}>
          <FieldGrid>
            <SelectField
              id="estimator"
              label="Factor from the settings by"
              hint="The line takes the reading error to sit in the reticle readings; the mean of the ratios is kept beside it."
              value={draft.estimator}
              disabled={readOnly}
              choices={FACTOR_ESTIMATORS.map((value) => ({ value, words: ESTIMATOR_WORDS[value] }))}
              onChange={(value) =>
                onChange({
                  ...draft,
                  estimator: FACTOR_ESTIMATORS.find((one) => one === value) ?? draft.estimator,
                })
              }
            />
            <SelectField
              id="coverage"
              label="Coverage factor k"
              hint="Student’s t for the effective degrees of freedom (JCGM 100:2008 G.4.2), or 2 throughout."
              value={draft.coverage}
              disabled={readOnly}
              choices={COVERAGE_RULES.map((value) => ({ value, words: COVERAGE_WORDS[value] }))}
              onChange={(value) =>
                onChange({
                  ...draft,
                  coverage: COVERAGE_RULES.find((one) => one === value) ?? draft.coverage,
                })
              }
            />
          </FieldGrid>
          <TextField
            id="remark"
            label="Remark"
            lines={2}
            value={draft.remark}
            disabled={readOnly}
            onChange={(remark) => onChange({ ...draft, remark })}
          />
        </div>
      </div>
    </Panel>
  );
}

function changedWords(conditions: TypedConditions): string {
  const changed = FIELDS.filter(({ key }) => isChanged(conditions, key));
  if (changed.length === 0) return "All by their stated defaults.";
  return `${countedNoun(changed.length, "differs from its default", "differ from their defaults")}: ${changed.map(({ label }) => label.toLowerCase()).join(", ")}.`;
}

const isChanged = (conditions: TypedConditions, key: NumericCondition): boolean => {
  const typed = conditions[key].trim();
  return typed !== "" && typed !== DEFAULT_CONDITIONS[key].value;
};

/** Every condition with the value that holds, for while the fields are folded away. */
function valuesWords({ conditions, estimator, coverage }: CalibrationDraft): string {
  const values = FIELDS.map(({ key, label, unit }) => {
    const value = conditions[key].trim() || DEFAULT_CONDITIONS[key].value;
    return `${label.toLowerCase()} ${value}${unit === "" ? "" : ` ${unit}`}`;
  });
  return `${[...values, ESTIMATOR_WORDS[estimator], `k by ${COVERAGE_WORDS[coverage]}`].join(" · ")}.`;
}
