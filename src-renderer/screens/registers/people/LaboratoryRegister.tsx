import { useState } from "react";
import { LaboratorySettings, REASON_USES, type ReasonUse } from "#core/contract/records/laboratory.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { EXERCISE_CHOICES, exercisesOf } from "../../../parts/bench-words/exercise-choices.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { ChecksField } from "../../../parts/form/ChecksField.tsx";
import { ChoiceField } from "../../../parts/form/ChoiceField.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsBySchema, problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { USUAL_REASONS } from "../../../parts/form/usual-reasons.ts";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { Notice } from "../../../parts/Notice.tsx";

interface Values {
  readonly name: string;
  readonly address: string;
  readonly confirmCalibrations: string;
  readonly reviewBeforeSigning: string;
  readonly reviewWithPin: string;
  readonly practiceBySignature: string;
  /** Names of exercises, by spaces. */
  readonly practiceForSheets: string;
  readonly practiceForCounts: string;
  /** Empty: checks are not scheduled. */
  readonly checkIntervalDays: string;
  readonly checkIntervalReason: string;
  /** One reason a line. */
  readonly reasons: Readonly<Record<ReasonUse, string>>;
  readonly reason: string;
}

const YES_NO = (yes: string, no: string) => [
  { value: "yes", words: yes },
  { value: "no", words: no },
];

/** How this laboratory wants to work. */
export function LaboratoryRegister() {
  const settings = useCall("laboratory.settings", {});
  const [saved, setSaved] = useState(0);
  return (
    <Panel title="Laboratory" lead="How this laboratory wants to work; every change goes to the audit trail.">
      <CallNotice calls={[settings]} waiting="Reading the settings …" />
      {saved > 0 ? <Notice kind="done" live title="The settings are kept." /> : null}
      {settings.data ? (
        <SettingsForm
          key={JSON.stringify(settings.data)}
          settings={settings.data}
          onSaved={() => setSaved(saved + 1)}
        />
      ) : null}
    </Panel>
  );
}

const linesOf = (typed: string): string[] =>
  typed
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line !== "");

function reasonsOf<A, B>(
  { strike, amend, correct, overdue }: Readonly<Record<ReasonUse, A>>,
  of: (one: A) => B,
): Record<ReasonUse, B> {
  return { strike: of(strike), amend: of(amend), correct: of(correct), overdue: of(overdue) };
}

const REASON_WORDS: Readonly<Record<ReasonUse, string>> = {
  strike: "Reasons for striking a row",
  amend: "Reasons for changing a closed sheet",
  correct: "Reasons for correcting a word",
  overdue: "Reasons for using something overdue",
};

function settingsOf(values: Values): LaboratorySettings {
  const days = values.checkIntervalDays.trim();
  return {
    name: values.name,
    address: values.address,
    confirmCalibrations: values.confirmCalibrations === "yes",
    reviewBeforeSigning: values.reviewBeforeSigning === "yes",
    reviewWithPin: values.reviewWithPin === "yes",
    practiceBySignature: values.practiceBySignature === "yes",
    practiceForSheets: exercisesOf(values.practiceForSheets),
    practiceForCounts: exercisesOf(values.practiceForCounts),
    checkIntervalDays: days === "" ? null : Number(days),
    checkIntervalReason: values.checkIntervalReason,
    reasons: reasonsOf(values.reasons, linesOf),
  };
}

function SettingsForm({ settings, onSaved }: { settings: LaboratorySettings; onSaved: () => void }) {
  const client = useClient();
  const form = useForm<Values, LaboratorySettings>({
    id: "laboratory",
    what: "the settings of the laboratory",
    initial: {
      name: settings.name,
      address: settings.address,
      confirmCalibrations: settings.confirmCalibrations ? "yes" : "no",
      reviewBeforeSigning: settings.reviewBeforeSigning ? "yes" : "no",
      reviewWithPin: settings.reviewWithPin ? "yes" : "no",
      practiceBySignature: settings.practiceBySignature ? "yes" : "no",
      practiceForSheets: settings.practiceForSheets.join(" "),
      practiceForCounts: settings.practiceForCounts.join(" "),
      checkIntervalDays: settings.checkIntervalDays === null ? "" : String(settings.checkIntervalDays),
      checkIntervalReason: settings.checkIntervalReason,
      reasons: reasonsOf(settings.reasons, (list) => list.join("\n")),
      reason: "",
    },
    root: "settings",
    check: (values) => {
      const numbers = problemsOfNumbers([
        ["checkIntervalDays", values.checkIntervalDays, { optional: true, sign: "positive", whole: true }],
      ]);
      const why = Reason.safeParse(values.reason).error?.issues[0]?.message;
      const schema = numbers.checkIntervalDays
        ? {}
        : problemsBySchema(LaboratorySettings, settingsOf(values));
      return { ...schema, ...numbers, ...(why ? { reason: why } : {}) };
    },
    send: (values, requestId) =>
      client("laboratory.change", { requestId, settings: settingsOf(values), reason: values.reason }),
    onSaved,
  });
  return (
    <FormFrame form={form} label="Laboratory" submit="Save settings">
      <FieldGrid>
        <TextField {...form.bind("name", "Name of the laboratory")} optional="for letters" />
        <TextField {...form.bind("address", "Address")} lines={3} optional="for letters" />
      </FieldGrid>
      <ChoiceField
        {...form.bind("confirmCalibrations", "Calibrations")}
        choices={YES_NO(
          "A calibration in force is marked until a second person has confirmed it.",
          "Whoever puts a calibration in force answers for it alone.",
        )}
      />
      <ChoiceField
        {...form.bind("reviewBeforeSigning", "Sheets")}
        choices={YES_NO(
          "A sheet is signed only after another person has reviewed it.",
          "A closed sheet may be signed without a review.",
        )}
      />
      <ChoiceField
        {...form.bind("reviewWithPin", "Reviews")}
        choices={YES_NO(
          "Whoever reviews a sheet proves it with the PIN.",
          "The person at the bench reviews, without a PIN.",
        )}
      />
      <ChoiceField
        {...form.bind("practiceBySignature", "Practice")}
        choices={YES_NO(
          "A met attempt counts as proof once an examiner has signed it.",
          "A met attempt counts as proof at once.",
        )}
      />
      <ChecksField
        {...form.bind("practiceForSheets", "To be proven in practice before work on sheets")}
        hint="Nothing is blocked: a sheet with rows of somebody who lacks one of these says so on screen, report and workbook. What was entered while it was asked keeps its mark."
        choices={EXERCISE_CHOICES}
      />
      <ChecksField
        {...form.bind("practiceForCounts", "To be proven in practice before work on counts")}
        hint="As for sheets. A method may ask for more of those who work by it."
        choices={EXERCISE_CHOICES}
      />
      <FieldGrid>
        {REASON_USES.map((use) => (
          <TextField
            key={use}
            {...form.bind(`reasons.${use}`, REASON_WORDS[use])}
            lines={4}
            optional="one a line, with its code if it has one"
            hint={`Chosen by number; left empty: ${USUAL_REASONS[use].join(", ")}. Any other reason can be typed.`}
          />
        ))}
      </FieldGrid>
      <FieldGrid>
        <NumberField
          {...form.bind("checkIntervalDays", "A check every")}
          unit="days"
          optional="empty: not scheduled"
          hint="Counted from the last calibration or check of each train."
        />
        <TextField {...form.bind("checkIntervalReason", "Why this interval")} optional />
        <TextField {...form.bind("reason", "Reason for the change")} />
      </FieldGrid>
    </FormFrame>
  );
}
