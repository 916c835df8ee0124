import { MOST_SAMPLES, SampleList } from "#core/contract/records/sheet.ts";
import type { FieldErrors } from "./form-values.ts";
import styles from "./SeveralSamples.module.css";
import { TextField } from "./TextField.tsx";
import type { Form } from "./use-form.ts";

/** What a form holds that opens work on one sample, or on several at once. */
export interface SampleValues {
  readonly sample: string;
  /** One sample a line; empty: the one above alone. */
  readonly samples: string;
}

export const isBatch = ({ samples }: SampleValues): boolean => samples.trim() !== "";

/** The samples that are listed, without empty lines. */
export const samplesOf = ({ samples }: SampleValues): string[] =>
  samples
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line !== "");

/** Why several samples cannot be opened as they are written. */
export function problemOfSamples(values: SampleValues): FieldErrors {
  if (!isBatch(values)) return {};
  if (values.sample.trim() !== "") {
    return { samples: "are listed, and one sample stands above as well: empty one of the two" };
  }
  const samples = samplesOf(values);
  const cells = samples.findIndex((line) => line.includes("\t"));
  if (cells >= 0) return { samples: `hold several cells in line ${cells + 1}: paste one column` };
  const problem = SampleList.safeParse(samples).error?.issues[0];
  if (!problem) return {};
  const [at] = problem.path;
  return {
    samples: typeof at === "number" ? `hold a line ${at + 1} that ${problem.message}` : problem.message,
  };
}

/** A column of samples in place of one; each is opened as a `what` of its own. */
export function SeveralSamples<V extends SampleValues>({ form, what }: { form: Form<V>; what: string }) {
  return (
    <details open={isBatch(form.values) || undefined}>
      <summary className={styles.summary}>Several samples at once …</summary>
      <TextField
        {...form.bind("samples", "Samples")}
        lines={6}
        optional="one a line"
        hint={`A column pasted from a spreadsheet, at most ${MOST_SAMPLES}. Each gets a ${what} of its own; Bench lists them until they are closed.`}
      />
    </details>
  );
}
