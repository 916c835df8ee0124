import { z } from "zod";
import { FINDING_STATES, VERDICT_OUTCOMES } from "../../vocabulary/rules.ts";
import { Id, Instant } from "./primitives.ts";

/** A verdict as it was given: by which rule, against which earlier factor, and every finding in words. */
export const Assessment = z.strictObject({
  /** Assessments by rule 1 were not kept. */
  rule: z.int().min(2),
  /** The calibration whose factor it was compared with; null: the first of its train. */
  earlierId: Id.nullable(),
  outcome: z.enum(VERDICT_OUTCOMES),
  /** From one setting only. */
  single: z.boolean(),
  findings: z.array(
    z.strictObject({ key: z.string(), name: z.string(), state: z.enum(FINDING_STATES), words: z.string() }),
  ),
  remarks: z.array(z.string()),
});
export type Assessment = z.infer<typeof Assessment>;

/** An assessment with who made it, when and why; each new one is kept beside those before. */
export const KeptAssessment = Assessment.extend({ at: Instant, by: Id, reason: z.string() });
export type KeptAssessment = z.infer<typeof KeptAssessment>;
