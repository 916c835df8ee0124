import { workingFactor } from "#core/calibration/working-factor.ts";
import { type CalibrationRecord, PutInForce } from "#core/contract/records/calibration.ts";
import { trueMinus } from "#core/quantity/printed-number.ts";
import { formatToPlaces, roundToPlaces } from "#core/quantity/rounding.ts";
import { monthsAfter } from "#core/trends/civil-day.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { today } from "../../parts/bench-words/today.ts";
import { DateField } from "../../parts/form/DateField.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { problemsBySchema } from "../../parts/form/form-checks.ts";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationContext, CalibrationPreview } from "./calibration-preview.ts";

interface Values {
  readonly dueOn: string;
  readonly reason: string;
  /** As typed; empty: the exact factor is put in force. */
  readonly workingPlaces: string;
}

/** Digits after the point as typed; null: none wanted; what is no whole number stays for the schema to name. */
const placesOf = (typed: string): number | null => {
  const text = typed.trim();
  if (text === "") return null;
  return /^\d+$/.test(text) ? Number(text) : Number.NaN;
};

/** What the working factor would be, and what it costs. */
function workingHint(preview: CalibrationPreview, typed: string): string {
  const places = placesOf(typed);
  const why = "Only where a written procedure asks for a rounded factor: “10.1” is 1.";
  if (!preview.result || places === null || Number.isNaN(places) || places > 6) return why;
  const { factor } = preview.result;
  if (roundToPlaces(factor, places, "half-even").isZero()) return why;
  const { working, relativeError } = workingFactor(factor, places);
  const off = trueMinus(relativeError.times(100).toSignificantDigits(2).toFixed());
  return `${formatToPlaces(working, places)} in place of ${factor.toSignificantDigits(6).toFixed()} µm/div: ${off} % off, and U grows by that.`;
}

export interface PutInForceFormProps {
  readonly context: CalibrationContext;
  readonly preview: CalibrationPreview;
  /** Resolves when everything typed has been kept. */
  readonly flush: () => Promise<void>;
  readonly onDone: (record: CalibrationRecord) => void;
}

/** Puts the calibration in force, with its due date and reason. */
export function PutInForceForm({ context, preview, flush, onDone }: PutInForceFormProps) {
  const client = useClient();
  const calibrationId = context.record.id;
  const form = useForm<Values, CalibrationRecord>({
    id: `in-force.${calibrationId}`,
    what: "the due date and reason",
    initial: {
      dueOn: monthsAfter(today(), 12),
      // A first calibration has but one reason; it can be typed over.
      reason: context.earlier ? "" : "First calibration of this train",
      workingPlaces: "",
    },
    check: (values) => ({
      ...problemsBySchema(PutInForce.pick({ dueOn: true, reason: true, workingPlaces: true }), {
        ...values,
        workingPlaces: placesOf(values.workingPlaces),
      }),
      ...(preview.result ? {} : { settings: "Type at least one complete setting first." }),
    }),
    send: async (values, requestId) => {
      await flush();
      const workingPlaces = placesOf(values.workingPlaces);
      return client("calibrations.putInForce", { requestId, calibrationId, ...values, workingPlaces });
    },
    onSaved: onDone,
  });
  return (
    <FormFrame form={form} submit="Put this factor into use" label="Put in force">
      <DateField
        {...form.bind("dueOn", "Due on")}
        source="A year to the next calibration: common practice, no source."
      />
      <TextField {...form.bind("reason", "Reason")} placeholder="due, after a service …" />
      <details open={form.values.workingPlaces !== "" || undefined}>
        <summary className={styles.summary}>Working factor …</summary>
        <NumberField
          {...form.bind("workingPlaces", "Digits of a working factor")}
          optional
          hint={workingHint(preview, form.values.workingPlaces)}
        />
      </details>
    </FormFrame>
  );
}
