import { useState } from "react";
import type { AreaFactor } from "#core/counting/areas/counting-area.ts";
import { countOfFibre, type FibreRule, fieldIsObscured, judgeFibre } from "#core/methods/fibre-rules.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { problemOfNumber } from "#core/quantity/number-rule.ts";
import { roundToSignificant } from "#core/quantity/rounding.ts";
import { Caution } from "../../../parts/Caution.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { FibreRulePanel } from "./FibreRulePanel.tsx";

interface FibreDialogProps {
  readonly rule: FibreRule;
  /** The frozen factor: then lengths are typed in divisions. */
  readonly factor: AreaFactor | null;
  readonly caution: string | null;
  readonly onClose: () => void;
}

interface Typed {
  readonly length: string;
  readonly width: string;
  readonly ends: string;
  readonly crossings: string;
  readonly covered: string;
}

const NOTHING: Typed = { length: "", width: "", ends: "2", crossings: "0", covered: "" };
const ENDS = [
  { value: "2", words: "both" },
  { value: "1", words: "one" },
  { value: "0", words: "none" },
];

/** The rule while counting, and what it says of one doubtful fibre or field; nothing of it is recorded. */
export function FibreDialog({ rule, factor, caution, onClose }: FibreDialogProps) {
  const [typed, setTyped] = useState(NOTHING);
  const bind = (key: keyof Typed, label: string) => ({
    id: `fibre-${key}`,
    label,
    value: typed[key],
    onChange: (value: string) => setTyped((before) => ({ ...before, [key]: value })),
  });
  const unit = factor ? "div" : "µm";
  const positive = (key: "length" | "width") =>
    problemOfNumber(typed[key], { sign: "positive", optional: true });
  return (
    <Dialog title="What counts as a fibre" onClose={onClose} wide>
      <FibreRulePanel rule={rule} />
      {caution ? <Caution>{caution}</Caution> : null}
      <FieldGrid title="One doubtful fibre">
        <NumberField
          {...bind("length", "Length along its curve")}
          unit={unit}
          error={positive("length")}
          autoFocus
        />
        <NumberField {...bind("width", "Width")} unit={unit} error={positive("width")} />
        <SelectField {...bind("ends", "Ends inside the area")} choices={ENDS} />
        <NumberField
          {...bind("crossings", "Crosses the edge so often")}
          error={problemOfNumber(typed.crossings, { sign: "not negative", whole: true })}
        />
      </FieldGrid>
      <p role="status" data-figure="fibre">
        {fibreWords(typed, rule, factor)}
      </p>
      <FieldGrid title="One doubtful field">
        <NumberField
          {...bind("covered", "Covered by debris")}
          unit="%"
          error={problemOfNumber(typed.covered, { sign: "not negative", optional: true })}
        />
      </FieldGrid>
      <p role="status" data-figure="covered">
        {coveredWords(typed, rule)}
      </p>
    </Dialog>
  );
}

/** What `judge` says, or what is wrong with what was typed; empty while something is missing. */
function wordsOr(typed: readonly string[], judge: () => string): string {
  if (typed.some((one) => one.trim() === "")) return "";
  try {
    return judge();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.field === "crossings" ? `The number of crossings ${error.reason}.` : "";
  }
}

function fibreWords(
  { length, width, ends, crossings }: Typed,
  rule: FibreRule,
  factor: AreaFactor | null,
): string {
  return wordsOr([length, width, crossings], () => {
    const micrometres = (field: string, text: string): Decimal =>
      readDecimal(field, text).value.times(factor?.factor ?? 1);
    const [l, w] = [micrometres("length", length), micrometres("width", width)];
    const size = `${shown(l)} × ${shown(w)} µm`;
    const { countable, reasons } = judgeFibre(l, w, rule);
    if (!countable) return `${size}: not a fibre, ${reasons.join(", ")}.`;
    const endsInside = ends === "2" ? 2 : ends === "1" ? 1 : 0;
    const count = countOfFibre(
      { endsInside, crossings: readDecimal("crossings", crossings).value.toNumber() },
      rule,
    );
    return `${size}: a fibre, counts ${count.isZero() ? "0" : count.toFixed()}.`;
  });
}

function shown(micrometres: Decimal): string {
  return roundToSignificant(micrometres, 3, "half-even").toFixed();
}

function coveredWords({ covered }: Typed, rule: FibreRule): string {
  return wordsOr([covered], () =>
    fieldIsObscured(readDecimal("covered", covered).value.div(decimal(100)), rule)
      ? "Leave this field out and take another."
      : "This field may be counted.",
  );
}
