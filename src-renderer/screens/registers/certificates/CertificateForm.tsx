import { useState } from "react";
import { Reason } from "#core/contract/records/primitives.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { CERTIFICATE_SIGNS } from "#core/vocabulary/calibration.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { ChoiceField } from "../../../parts/form/ChoiceField.tsx";
import { DateField } from "../../../parts/form/DateField.tsx";
import { EntryTable } from "../../../parts/form/EntryTable.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { withoutAt } from "../../../parts/form/form-values.ts";
import { MoreFields } from "../../../parts/form/MoreFields.tsx";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { Notice } from "../../../parts/Notice.tsx";
import {
  asCorrected,
  type CertificateTyped,
  certificateInput,
  certificateProblems,
  EMPTY_LINE,
  NEW_CERTIFICATE,
  STATED_UNCERTAINTIES,
  type StatedUncertainty,
  withPastedLines,
} from "./certificate-form.ts";
import { SIGN_WORDS } from "./certificate-sign.ts";
import { LinesPreview } from "./LinesPreview.tsx";
import { SecondEntry } from "./SecondEntry.tsx";

export interface CertificateFormProps {
  readonly micrometer: StageMicrometer;
  /** The certificate that the new one corrects. */
  readonly replaces?: Certificate | undefined;
  readonly onSaved: (certificate: Certificate) => void;
  readonly onCancel: () => void;
}

const MORE = ["accreditation", "degreesOfFreedom"];

/** Enters a certificate from paper: its head, then its table by keypad or paste. */
export function CertificateForm({ micrometer, replaces, onSaved, onCancel }: CertificateFormProps) {
  const client = useClient();
  const [blind, setBlind] = useState(false);
  const [before] = useState(() => (replaces ? asCorrected(replaces) : null));
  const form = useForm({
    id: replaces ? `replace-${replaces.id}` : `certificate-${micrometer.id}`,
    what: "the certificate you began to enter",
    // The first certificate of a scale has no history to decide by; that can be typed over.
    initial:
      before ??
      (micrometer.certificates.length === 0
        ? { ...NEW_CERTIFICATE, dueReason: "no history yet" }
        : NEW_CERTIFICATE),
    root: "certificate",
    check: (typed) => ({
      ...certificateProblems(micrometer.id, typed),
      ...(replaces ? reasonProblem(typed.reason) : {}),
    }),
    send: (typed, requestId) => {
      const certificate = certificateInput(micrometer.id, typed);
      return replaces
        ? client("certificates.replace", {
            requestId,
            certificateId: replaces.id,
            certificate,
            reason: typed.reason,
          })
        : client("certificates.register", { requestId, certificate });
    },
    onSaved,
  });
  const { values } = form;
  /** A field of the certificate; while it holds what the corrected one held, it says so in the place of its hint. */
  const bind = (path: keyof CertificateTyped, label: string, hint?: string) => {
    const isAsBefore = before !== null && before[path] !== "" && values[path] === before[path];
    return { ...form.bind(path, label), hint: isAsBefore ? `As on ${replaces?.number}.` : hint };
  };
  const valueTitle = values.sign === "" ? "Second column" : capital(SIGN_WORDS[values.sign].short);
  return (
    <FormFrame
      form={form}
      label={replaces ? "Enter the corrected certificate" : "Enter a certificate"}
      submit={replaces ? "Save and put it in the other’s place" : "Save the certificate"}
      onCancel={onCancel}
    >
      {replaces ? (
        <>
          <Notice kind="care" title={`It takes the place of ${replaces.number}, which is not used any more.`}>
            The form starts from it: change what the corrected one says otherwise. Calibrations made with{" "}
            {replaces.number} keep their factors until you re-evaluate them in Trace.
          </Notice>
          <TextField
            {...form.bind("reason", "Why it is replaced")}
            hint="“The laboratory withdrew it: sign of the errors reversed”."
          />
        </>
      ) : null}
      <FieldGrid title="The certificate">
        <TextField {...bind("number", "Certificate number")} autoFocus />
        <TextField {...bind("laboratory", "Laboratory")} />
        <DateField {...bind("calibratedOn", "Calibrated on")} />
        <DateField
          {...bind("dueOn", "Due again on", "Your decision: a certificate names no interval unless agreed.")}
          source="ISO/IEC 17025:2017 7.8.4.3, from memory."
        />
        <TextField
          {...bind(
            "dueReason",
            "Why this interval",
            "“Five years, no history yet”; “no change in three certificates”.",
          )}
        />
        <NumberField
          {...bind(
            "temperature",
            "Reference temperature",
            "At which the certified values hold. 20 °C unless the certificate says otherwise (ISO 1).",
          )}
          unit="°C"
          placeholder="20"
        />
      </FieldGrid>
      <ChoiceField
        {...form.bind("stated", "How does it state the expanded uncertainty U?")}
        choices={STATED_UNCERTAINTIES.map((stated) => ({ value: stated, words: STATED_WORDS[stated] }))}
      />
      <FieldGrid title="Its uncertainty">
        {values.stated === "lines" ? null : (
          <NumberField
            {...bind(
              "expandedUncertainty",
              values.stated === "length" ? "a, the part for every length" : "Expanded uncertainty U",
              "Of a certified interval.",
            )}
            unit="µm"
          />
        )}
        {values.stated === "length" ? (
          <NumberField
            {...bind(
              "uncertaintyPerMm",
              "b, the part that grows with the length",
              "U = a + b·L with L in mm.",
            )}
            unit="µm per mm"
          />
        ) : null}
        <NumberField
          {...bind("coverageFactor", "Coverage factor k", "Usually 2: compare it with the certificate.")}
          placeholder="2"
        />
      </FieldGrid>
      <ChoiceField
        {...form.bind("sign", "What does the second column of its table hold?")}
        choices={CERTIFICATE_SIGNS.map((sign) => ({ value: sign, words: SIGN_WORDS[sign].long }))}
      />
      {blind ? null : (
        <EntryTable
          caption={before ? `Certified lines, ${linesAgainst(before, values)}` : "Certified lines"}
          columns={[
            { key: "nominal", title: "Marked", unit: "µm", kind: "number" },
            {
              key: "value",
              title: valueTitle,
              unit: "µm",
              kind: "number",
            },
            ...(values.stated === "lines"
              ? [{ key: "expandedUncertainty", title: "U of the line", unit: "µm", kind: "number" } as const]
              : []),
          ]}
          rows={values.lines.length}
          rowName={(row) => `Line ${row + 1}`}
          bind={(row, key, label) => form.bind(`lines.${row}.${key}`, label)}
          onAdd={() => form.change((typed) => ({ ...typed, lines: [...typed.lines, EMPTY_LINE] }))}
          addWords="Add line"
          onRemove={(row) => form.change((typed) => ({ ...typed, lines: withoutAt(typed.lines, row) }))}
          onPaste={(row, column, cells) =>
            form.change((typed) => ({ ...typed, lines: withPastedLines(typed.lines, row, column, cells) }))
          }
          least={2}
          most={2000}
        />
      )}
      <MoreFields words="Accreditation number, effective degrees of freedom" form={form} paths={MORE}>
        <FieldGrid>
          <TextField {...bind("accreditation", "Accreditation number")} optional />
          <NumberField
            {...bind("degreesOfFreedom", "Effective degrees of freedom")}
            optional="where it states them"
          />
        </FieldGrid>
      </MoreFields>
      <SecondEntry form={form} valueTitle={valueTitle} blind={blind} onBlind={setBlind} />
      {blind ? null : <LinesPreview typed={values} />}
    </FormFrame>
  );
}

const STATED_WORDS: Readonly<Record<StatedUncertainty, string>> = {
  interval: "One U for every interval",
  length: "U = a + b·L, growing with the length",
  lines: "A U for each line",
};

/** How the table stands to that of the corrected certificate. */
function linesAgainst(before: CertificateTyped, { lines }: CertificateTyped): string {
  const count = Math.max(lines.length, before.lines.length);
  const changed = Array.from({ length: count }, (_, at) => at).filter((at) => {
    const [one, other] = [lines[at] ?? EMPTY_LINE, before.lines[at] ?? EMPTY_LINE];
    return (["nominal", "value", "expandedUncertainty"] as const).some((key) => one[key] !== other[key]);
  });
  if (changed.length === 0) return "as on the one it corrects";
  const named = `${changed.length === 1 ? "line" : "lines"} ${changed.map((at) => at + 1).join(", ")}`;
  return `${named} changed against the one it corrects`;
}

function reasonProblem(reason: string): Readonly<Record<string, string>> {
  const problem = Reason.safeParse(reason).error?.issues[0]?.message;
  return problem ? { reason: problem } : {};
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
