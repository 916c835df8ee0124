import type { ReasonUse } from "#core/contract/records/laboratory.ts";

/** Offered by number until the laboratory has a list of its own; common practice, no source. Others are typed. */
export const USUAL_REASONS: Readonly<Record<ReasonUse, readonly string[]>> = {
  strike: [
    "broken or deformed",
    "overlapped by another",
    "tilted or not in focus",
    "not of this kind",
    "measured twice",
    "read wrongly",
  ],
  amend: ["read again", "typed wrongly", "wrong label", "one specimen more", "asked for at review"],
  correct: ["misspelt", "filled in from the label", "the customer’s correction"],
  overdue: [
    "for a trial only, not for a report",
    "a check today shows that the factor still holds",
    "the certificate is being renewed",
    "the customer knows and agrees",
  ],
};
