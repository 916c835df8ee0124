import { z } from "zod";
import { Id, Instant, Name, Note, OptionalLine, Reason } from "./primitives.ts";
import { AMOUNT_KEYS, TESTED_AMOUNT } from "./tested-amount.ts";

/** What each field takes, as at its registration. */
const RULE_OF = {
  name: Name,
  sample: Name,
  initials: OptionalLine,
  maker: OptionalLine,
  model: OptionalLine,
  serial: OptionalLine,
  customer: OptionalLine,
  ...TESTED_AMOUNT,
  note: Note,
} as const;
export type CorrectableField = keyof typeof RULE_OF;

/** Words that no frozen result depends on, by the kind of record they stand in. */
export const CORRECTABLE = {
  person: ["name", "initials"],
  microscope: ["name", "maker", "model", "serial"],
  objective: ["serial"],
  eyepiece: ["name", "serial"],
  "stage micrometer": ["name", "serial", "maker"],
  sheet: ["sample", "customer", "containers", "volume", "portion", "note"],
  count: ["sample", "customer", "note"],
} as const satisfies Readonly<Record<string, readonly CorrectableField[]>>;
export type CorrectableKind = keyof typeof CORRECTABLE;

/** Words that are absent where nothing is named. */
const ABSENT_WHEN_EMPTY: readonly string[] = ["customer", ...AMOUNT_KEYS];

/** A word as a record keeps it: null where it names nothing. */
export function keptWord(field: string, word: string): string | null {
  return word === "" && ABSENT_WHEN_EMPTY.includes(field) ? null : word;
}

export const CorrectionSubject = z.strictObject({
  kind: z.enum(Object.keys(CORRECTABLE) as [CorrectableKind, ...CorrectableKind[]]),
  id: Id,
});
export type CorrectionSubject = z.infer<typeof CorrectionSubject>;

/** A slip in a name or number that is put right, or filled in later; the old word stays in the trail. */
export const NewCorrection = z
  .strictObject({
    subject: CorrectionSubject,
    field: z.enum(Object.keys(RULE_OF) as [CorrectableField, ...CorrectableField[]]),
    value: z.string(),
    reason: Reason,
  })
  .superRefine(({ subject, field, value }, context) => {
    if (!(CORRECTABLE[subject.kind] as readonly string[]).includes(field))
      context.addIssue({ code: "custom", path: ["field"], message: `is not a word of a ${subject.kind}` });
    const problem = RULE_OF[field].safeParse(value).error?.issues[0]?.message;
    if (problem) context.addIssue({ code: "custom", path: ["value"], message: problem });
  })
  .transform((correction) => ({
    ...correction,
    value: RULE_OF[correction.field].parse(correction.value),
  }));
export type NewCorrection = z.infer<typeof NewCorrection>;

/** Old and new, as the trail keeps it. */
export const Correction = z.strictObject({
  subject: CorrectionSubject,
  field: z.string(),
  before: z.string(),
  after: z.string(),
  reason: z.string(),
  at: Instant,
  by: Id,
});
export type Correction = z.infer<typeof Correction>;
