import type { BlockColumn, BlockPreview } from "#core/contract/records/block.ts";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import fieldStyles from "../../../parts/Field.module.css";
import { classNames } from "../../../parts/layout/class-names.ts";
import styles from "./Blocks.module.css";
import { columnOptions, optionValue } from "./column-options.ts";
import type { Paste, PasteChoices } from "./paste-choices.ts";

const EXAMPLES = 3;

export interface PastedColumnsProps {
  readonly paste: Paste;
  readonly choices: PasteChoices;
  readonly preview: BlockPreview | null;
  readonly definition: MethodDefinition;
  /** What is wrong with a column, by its place from 0. */
  readonly problem: { readonly index: number; readonly reason: string } | null;
  readonly onChoose: (index: number, column: BlockColumn) => void;
}

/** The first texts of a column, as they were pasted. */
function examplesOf({ lines }: Paste, index: number, from: number): string {
  const texts: string[] = [];
  for (let line = from; line < lines.length && texts.length < EXAMPLES; line += 1) {
    const text = lines[line]?.[index] ?? "";
    if (text !== "") texts.push(text.length > 24 ? `${text.slice(0, 24)}…` : text);
  }
  return texts.join(" · ");
}

/** What each pasted column becomes, with its first texts and how many of its cells fail. */
export function PastedColumns(props: PastedColumnsProps) {
  const { paste, choices, preview, definition, problem, onChoose } = props;
  const options = columnOptions(definition);
  const heading = choices.skipFirstLine ? (paste.lines[0] ?? []) : [];
  return (
    <table className={styles.table}>
      <caption>What each column becomes</caption>
      <thead>
        <tr>
          <th scope="col">Column</th>
          <th scope="col">First cells</th>
          <th scope="col">Becomes</th>
          <th scope="col" className={styles.number}>
            Cells
          </th>
          <th scope="col" className={styles.number}>
            Fail
          </th>
        </tr>
      </thead>
      <tbody>
        {choices.columns.map((column, index) => {
          const seen = preview?.columns[index];
          const isWrong = problem?.index === index;
          return (
            // biome-ignore lint/suspicious/noArrayIndexKey: a pasted column is its place
            <tr key={index}>
              <th scope="row">
                {index + 1}
                {heading[index] ? <span className={styles.soft}> {heading[index]}</span> : null}
              </th>
              <td className={styles.examples}>
                {examplesOf(paste, index, choices.skipFirstLine ? 1 : 0) || "empty"}
              </td>
              <td>
                <select
                  className={fieldStyles.control}
                  aria-label={`Column ${index + 1} becomes`}
                  aria-invalid={isWrong || undefined}
                  aria-describedby={isWrong ? "paste-column-problem" : undefined}
                  value={optionValue(column)}
                  onChange={(event) => {
                    const chosen = options.find((option) => option.value === event.target.value);
                    if (chosen) onChoose(index, chosen.column);
                  }}
                >
                  {options.map((option) => (
                    <option key={option.value} value={option.value}>
                      {option.words}
                    </option>
                  ))}
                </select>
                {isWrong ? (
                  <p id="paste-column-problem" className={fieldStyles.error}>
                    Column {index + 1} {problem.reason}
                  </p>
                ) : null}
              </td>
              <td className={styles.number}>{seen?.filled ?? ""}</td>
              <td className={classNames(styles.number, seen && seen.failed > 0 && styles.failing)}>
                {seen?.failed ?? ""}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
