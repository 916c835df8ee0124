/** How sure we are that a fact of the trade says what we print. */
export const EVIDENCE_GRADES = ["published", "from memory", "common practice", "own"] as const;
/**
 * `published`: the source's text was read. `from memory`: a published source, cited without opening it; check the
 * clause before relying on it. `common practice`: no source. `own`: set by the laboratory.
 */
export type EvidenceGrade = (typeof EVIDENCE_GRADES)[number];

/** Where a rule, limit or constant comes from; printed beside whatever used it. */
export interface Provenance {
  readonly source: string;
  readonly standing: EvidenceGrade;
}
