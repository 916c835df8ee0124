import { EDGE_RULES } from "#core/counting/methods/edge-rules.ts";
import styles from "../CountTab.module.css";
import { EdgeDrawing } from "./EdgeDrawing.tsx";

export interface EdgeRuleFieldProps {
  readonly value: string;
  readonly onChange: (id: string) => void;
  readonly note: string;
}

/** The edge rule, chosen by its drawing. */
export function EdgeRuleField({ value, onChange, note }: EdgeRuleFieldProps) {
  return (
    <fieldset>
      <legend className={styles.legend}>An object across the edge</legend>
      <div className={styles.edges}>
        {EDGE_RULES.map((rule) => (
          <label key={rule.id} className={styles.edge}>
            <EdgeDrawing rule={rule} />
            <span>
              <input
                type="radio"
                name="edge-rule"
                value={rule.id}
                checked={rule.id === value}
                onChange={() => onChange(rule.id)}
              />{" "}
              {rule.name}
            </span>
          </label>
        ))}
      </div>
      <p className={styles.soft}>{note}</p>
    </fieldset>
  );
}
