import { useState } from "react";
import type { TypedSetting } from "#core/contract/records/calibration.ts";
import { type CheckRecord, NewCheck } from "#core/contract/records/check.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { CheckList } from "../../parts/calibration/CheckList.tsx";
import { EntryTable } from "../../parts/form/EntryTable.tsx";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { problemsBySchema, problemsOfNumbers } from "../../parts/form/form-checks.ts";
import { withoutAt } from "../../parts/form/form-values.ts";
import { NumberField } from "../../parts/form/NumberField.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import styles from "./CalibrateScreen.module.css";
import { CheckOutcome } from "./CheckOutcome.tsx";
import { BLANK_SETTING, isBlankSetting, SETTING_KEYS, withoutBlankEnd } from "./settings-rows.ts";
import type { TrainChoice } from "./train-choices.ts";

/** A certificate that may be used, with its micrometer in words. */
export interface UsableCertificate {
  readonly stageMicrometerId: string;
  readonly certificateId: string;
  readonly words: string;
}

interface Values {
  readonly certificateId: string;
  readonly settings: readonly TypedSetting[];
  readonly temperature: string;
  readonly remark: string;
}

export interface QuickCheckProps {
  readonly choice: TrainChoice;
  readonly certificates: readonly UsableCertificate[];
}

/** The 30-second check: one setting against the factor in force, with its own record. */
export function QuickCheck({ choice, certificates }: QuickCheckProps) {
  const navigation = useNavigation();
  const trainId = choice.status.train.id;
  const checks = useCall("checks.list", { trainId });
  const [last, setLast] = useState<CheckRecord | null>(null);
  const factor = choice.status.inForce?.result;
  if (!factor) {
    return (
      <Notice
        kind="care"
        title="There is no factor in force to check."
        hint="Calibrate this train; a check compares with a calibration."
      >
        <p>
          <Button onClick={() => navigation.go({ screen: "calibrate", trainId, calibrationId: null })}>
            Calibrate it
          </Button>
        </p>
      </Notice>
    );
  }
  return (
    <>
      {last ? (
        <CheckOutcome check={checks.data?.find(({ id }) => id === last.id) ?? last} trainId={trainId} />
      ) : null}
      <Panel
        title="Quick check"
        lead={`Against the factor in force, ${factor.shownFactor} ± ${factor.shownUncertainty} µm/div. One setting over as much of the reticle as the micrometer fills; its lines are counted from 0.`}
      >
        <CheckForm
          key={last?.id ?? "first"}
          trainId={trainId}
          certificates={certificates}
          onSaved={setLast}
        />
      </Panel>
      <Panel title="Checks of this train">
        <CallNotice calls={[checks]} waiting="Reading the checks …" />
        {checks.data ? <CheckList checks={checks.data} /> : null}
      </Panel>
    </>
  );
}

interface CheckFormProps {
  readonly trainId: string;
  readonly certificates: readonly UsableCertificate[];
  readonly onSaved: (check: CheckRecord) => void;
}

function CheckForm({ trainId, certificates, onSaved }: CheckFormProps) {
  const client = useClient();
  const inputOf = (values: Values) => ({
    trainId,
    stageMicrometerId:
      certificates.find((one) => one.certificateId === values.certificateId)?.stageMicrometerId ?? "",
    certificateId: values.certificateId,
    settings: [...withoutBlankEnd(values.settings)],
    temperature: values.temperature,
    remark: values.remark,
  });
  const form = useForm<Values, CheckRecord>({
    id: `check-${trainId}`,
    what: "the check you began",
    initial: {
      certificateId: certificates[0]?.certificateId ?? "",
      settings: [BLANK_SETTING],
      temperature: "",
      remark: "",
    },
    root: "check",
    check: (values) => ({ ...problemsBySchema(NewCheck, inputOf(values)), ...settingProblems(values) }),
    send: (values, requestId) => client("checks.record", { requestId, check: inputOf(values) }),
    onSaved,
  });
  const { settings } = form.values;
  return (
    <FormFrame form={form} label="Quick check" submit="Record the check">
      <EntryTable
        caption="Settings"
        columns={[
          { key: "reticleLeft", title: "Reticle left", unit: "div", kind: "number" },
          { key: "reticleRight", title: "Reticle right", unit: "div", kind: "number" },
          { key: "lineLeft", title: "Line left", kind: "number" },
          { key: "lineRight", title: "Line right", kind: "number" },
        ]}
        rows={settings.length}
        rowName={(row) => `Setting ${row + 1}`}
        bind={(row, key, label) => form.bind(`settings.${row}.${key}`, label)}
        onAdd={() => form.change((typed) => ({ ...typed, settings: [...typed.settings, BLANK_SETTING] }))}
        addWords="Add setting"
        onRemove={(row) => form.change((typed) => ({ ...typed, settings: withoutAt(typed.settings, row) }))}
        least={1}
        most={20}
      />
      <FieldGrid>
        <SelectField
          {...form.bind("certificateId", "Stage micrometer and certificate")}
          choices={certificates.map((one) => ({ value: one.certificateId, words: one.words }))}
          hint="With the micrometer of the calibration its own uncertainty cancels out, and the limit is narrower."
        />
        <NumberField
          {...form.bind("temperature", "Temperature")}
          unit="°C"
          optional
          hint="Default: as at the calibration."
        />
        <TextField {...form.bind("remark", "Remark")} optional />
      </FieldGrid>
      <p className={styles.soft}>
        Passed when the factor found lies within 2·√(u² + u²) of the one in force, u being what may differ
        from one occasion to the other. A single setting counts with the scatter of earlier calibrations;
        about one check in twenty fails by chance.
      </p>
    </FormFrame>
  );
}

function settingProblems({ settings }: Values): Readonly<Record<string, string>> {
  const meant = withoutBlankEnd(settings);
  if (meant.length === 0 || meant.some(isBlankSetting)) {
    const empty = Math.max(0, settings.findIndex(isBlankSetting));
    return { [`settings.${empty}.reticleLeft`]: "is empty: type the reading at the left end" };
  }
  return problemsOfNumbers(
    meant.flatMap((setting, row) =>
      SETTING_KEYS.map((key) => [`settings.${row}.${key}`, setting[key]] as const),
    ),
  );
}
