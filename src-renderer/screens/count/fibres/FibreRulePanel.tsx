import { type FibreRule, fibreRuleWords } from "#core/methods/fibre-rules.ts";

/** What counts as a fibre under a rule, in sentences, with its source. */
export function FibreRulePanel({ rule }: { rule: FibreRule }) {
  return (
    <>
      <ul>
        {fibreRuleWords(rule).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p>
        {rule.name} ({rule.source}; {rule.standing}). The edition in force at your laboratory decides.
      </p>
    </>
  );
}
