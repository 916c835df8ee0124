import { CERTIFICATE_SIGNS } from "#core/calibration/certified-scale.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { ChoiceField } from "../../parts/ChoiceField.tsx";
import { DateField } from "../../parts/DateField.tsx";
import { EntryTable } from "../../parts/EntryTable.tsx";
import { FieldGrid } from "../../parts/FieldGrid.tsx";
import { FormFrame } from "../../parts/FormFrame.tsx";
import { withoutAt } from "../../parts/form-values.ts";
import { NumberField } from "../../parts/NumberField.tsx";
import { TextField } from "../../parts/TextField.tsx";
import { useForm } from "../../parts/use-form.ts";
import {
  certificateInput,
  certificateProblems,
  EMPTY_CERTIFICATE,
  EMPTY_LINE,
  withPastedLines,
} from "./certificate-form.ts";
import { SIGN_WORDS } from "./certificate-sign.ts";
import { LinesPreview } from "./LinesPreview.tsx";

export interface CertificateFormProps {
  readonly micrometer: StageMicrometer;
  readonly onSaved: (certificate: Certificate) => void;
  readonly onCancel: () => void;
}

/** Enters a certificate from paper: its head, then its table by keypad or paste. */
export function CertificateForm({ micrometer, onSaved, onCancel }: CertificateFormProps) {
  const client = useClient();
  const form = useForm({
    id: `certificate-${micrometer.id}`,
    what: "the certificate you began to enter",
    initial: EMPTY_CERTIFICATE,
    root: "certificate",
    check: (typed) => certificateProblems(micrometer.id, typed),
    send: (typed, requestId) =>
      client("certificates.register", { requestId, certificate: certificateInput(micrometer.id, typed) }),
    onSaved,
  });
  const { values } = form;
  return (
    <FormFrame form={form} label="Enter a certificate" submit="Save the certificate" onCancel={onCancel}>
      <FieldGrid title="The certificate">
        <TextField {...form.bind("number", "Certificate number")} autoFocus />
        <TextField {...form.bind("laboratory", "Laboratory")} />
        <TextField {...form.bind("accreditation", "Accreditation number")} optional />
        <DateField {...form.bind("calibratedOn", "Calibrated on")} />
        <DateField
          {...form.bind("dueOn", "Due again on")}
          hint="Your decision: a certificate names no interval unless agreed (ISO/IEC 17025:2017 7.8.4.3, from memory)."
        />
        <TextField
          {...form.bind("dueReason", "Why this interval")}
          hint="“Five years, no history yet”; “no change in three certificates”."
        />
        <NumberField
          {...form.bind("temperature", "Reference temperature")}
          unit="°C"
          placeholder="20"
          hint="At which the certified values hold; usually 20 °C."
        />
        <NumberField
          {...form.bind("expandedUncertainty", "Expanded uncertainty U")}
          unit="µm"
          hint="Of a certified interval. If it depends on length, take the largest."
        />
        <NumberField {...form.bind("coverageFactor", "Coverage factor k")} placeholder="2" />
      </FieldGrid>
      <ChoiceField
        {...form.bind("sign", "What does the second column of its table hold?")}
        choices={CERTIFICATE_SIGNS.map((sign) => ({ value: sign, words: SIGN_WORDS[sign].long }))}
      />
      <EntryTable
        caption="Certified lines"
        columns={[
          { key: "nominal", title: "Marked", unit: "µm", kind: "number" },
          {
            key: "value",
            title: values.sign === "" ? "Second column" : capital(SIGN_WORDS[values.sign].short),
            unit: "µm",
            kind: "number",
          },
        ]}
        rows={values.lines.length}
        rowName={(row) => `Line ${row + 1}`}
        bind={(row, key, label) => form.bind(`lines.${row}.${key}`, label)}
        onAdd={() => form.change((typed) => ({ ...typed, lines: [...typed.lines, EMPTY_LINE] }))}
        addWords="One more line"
        onRemove={(row) => form.change((typed) => ({ ...typed, lines: withoutAt(typed.lines, row) }))}
        onPaste={(row, column, cells) =>
          form.change((typed) => ({ ...typed, lines: withPastedLines(typed.lines, row, column, cells) }))
        }
        least={2}
        most={2000}
      />
      <LinesPreview typed={values} />
    </FormFrame>
  );
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
