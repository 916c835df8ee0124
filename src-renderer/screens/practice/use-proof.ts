import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { useCall } from "../../bridge/use-call.ts";
import { type ProofOfAttempt, proofOfAttempt } from "./practice-words.ts";

/** What an attempt proves, by its certificate and by what the laboratory asks for. */
export function useProof(): (attempt: PracticeAttempt) => ProofOfAttempt | null {
  const certificates = useCall("practice.certificates", {}).data ?? [];
  const bySignature = useCall("laboratory.settings", {}).data?.practiceBySignature ?? false;
  return (attempt) =>
    proofOfAttempt(
      attempt,
      certificates.find(({ attemptId }) => attemptId === attempt.id),
      bySignature,
    );
}
