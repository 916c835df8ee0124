import type { CountCategory, CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import { decisionWords, densityDecisions } from "#core/counting/densities/density-decisions.ts";
import { StateMark } from "../../../parts/StateMark.tsx";

interface LimitDecisionsProps {
  readonly definition: CountMethodDefinition;
  readonly categories: readonly CountCategory[];
  readonly results: CountResults;
}

/** Whether the densities keep the limits of the method, each by its rule. */
export function LimitDecisions({ definition, categories, results }: LimitDecisionsProps) {
  const decisions = densityDecisions(definition, categories, results);
  if (decisions.length === 0) return null;
  return (
    <section aria-label="Limits">
      <h2>Limits of the method</h2>
      {decisions.map((decision) => (
        <p key={`${decision.limit.of} ${decision.limits}`}>
          <StateMark state={decision.conforms ? "good" : "warn"} /> <strong>{decision.name}</strong>:{" "}
          {decisionWords(decision)}.
        </p>
      ))}
    </section>
  );
}
