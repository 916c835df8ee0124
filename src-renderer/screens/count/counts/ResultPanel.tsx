import type { ReactNode } from "react";
import type { CountCategory, CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { CategoryResult, CountResults, DensityRecord } from "#core/contract/records/count-results.ts";
import { limitsOfRecord, limitsTitle } from "#core/counting/densities/reported-density.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { StateMark } from "../../../parts/StateMark.tsx";
import { intervalWords, objects, percent, shareWords } from "../words.ts";
import { LimitDecisions } from "./LimitDecisions.tsx";
import styles from "./ResultPanel.module.css";
import { SumTable } from "./SumTable.tsx";

export interface ResultPanelProps {
  readonly results: CountResults;
  readonly definition: CountMethodDefinition;
  /** Of the count itself: names may differ from the method's. */
  readonly categories: readonly CountCategory[];
  /** Cautions that stand elsewhere on the page, always in sight. */
  readonly saidElsewhere: readonly string[];
  /** Shown below the densities. */
  readonly children?: ReactNode;
  /** Shown below the dispersion test. */
  readonly scatter?: ReactNode;
}

/** What the count says so far: how far to go, densities, intervals side by side, shares. */
export function ResultPanel(props: ResultPanelProps) {
  const { results, definition, categories, saidElsewhere, children, scatter } = props;
  return (
    <div className={styles.results}>
      <Stopping results={results} name={definition.stopping.name} />
      <Densities results={results} categories={categories} />
      <LimitDecisions definition={definition} categories={categories} results={results} />
      {children}
      <Intervals results={results} unit={definition.countingUnit} scatter={scatter} />
      <DataTable
        caption="Categories"
        columns={shareColumns(definition)}
        rows={results.categories}
        rowKey={(row) => row.category}
        empty="No categories."
      />
      {(results.sums ?? []).map((sum) => (
        <SumTable key={sum.name} sum={sum} />
      ))}
      <Remarks cautions={results.cautions.filter((one) => !saidElsewhere.includes(one))} />
    </div>
  );
}

/** Cautions that come of what was counted. */
function Remarks({ cautions }: { cautions: readonly string[] }) {
  return cautions.map((caution) => (
    <p key={caution} className={styles.soft}>
      {caution}
    </p>
  ));
}

function Stopping({ results, name }: { results: CountResults; name: string }) {
  const { met, words, missing } = results.stopping;
  const { precision, objects: more, fields } = results.stillNeeded;
  return (
    <section aria-label="Stopping rule">
      <h2>When to stop: {name}</h2>
      <p className={styles.rule} data-met={met}>
        <StateMark state={met ? "good" : "none"} /> {met ? "Met: " : ""}
        {words}
        {met || missing.length === 0 ? "" : `; still ${missing.join(", ")}`}
      </p>
      <p className={styles.soft}>
        For ± {Number((precision * 100).toFixed(1))} %: {neededWords(more, fields)}
      </p>
    </section>
  );
}

function neededWords(more: number | null, fields: number | null): string {
  if (fields !== null)
    return fields === 0
      ? "enough, by the scatter between fields."
      : `${countedNoun(fields, "more field")}, by the scatter so far.`;
  if (more === null) return "not yet to be said.";
  return more === 0
    ? "enough, by the count alone."
    : `${countedNoun(more, "more object")}, by the count alone.`;
}

function Densities({ results, categories }: Pick<ResultPanelProps, "results" | "categories">) {
  const { densities, missing } = results;
  const [total, ...rest] = densities;
  if (missing !== null) {
    return (
      <p className={styles.missing}>
        <StateMark state="warn" /> {missing}
      </p>
    );
  }
  if (!total) return null;
  return (
    <section aria-label="Density">
      <h2>Density</h2>
      <p className={styles.density} data-figure="density">
        {total.shown}
      </p>
      {total.class ? <p>{total.class}</p> : null}
      <p className={styles.soft}>{basisWords(total, limitsTitle(results))}</p>
      {rest.length > 0 ? (
        <DataTable
          caption="Density by category"
          captionHidden
          columns={densityColumns(categories, limitsTitle(results))}
          rows={rest}
          rowKey={(row) => `${row.of} ${row.unit}`}
          empty=""
        />
      ) : null}
    </section>
  );
}

type LimitsTitle = ReturnType<typeof limitsTitle>;

function basisWords(record: DensityRecord, title: LimitsTitle): string {
  const { basis, components } = record;
  const counts = title === "95 % of both counts" ? "counts" : "count";
  const by = basis === "poisson" ? `the ${counts} (Poisson)` : "the scatter between fields";
  const limits = limitsOfRecord(record);
  const largest = components.toSorted((a, b) => Number(b.share) - Number(a.share))[0];
  const most = largest ? `; most of U: ${largest.name}, ${percent(Number(largest.share))}` : "";
  return `${limits === null ? "Limits" : `${title}: ${limits},`} by ${by}${most}.`;
}

/** A figure, and what stands in brackets behind it on a line of its own: both stay whole. */
function Figure({ text }: { text: string }) {
  const [figure, behind] = text.split(/ (?=\()/);
  return (
    <>
      {figure}
      {behind ? <span className={styles.behind}>{behind}</span> : null}
    </>
  );
}

/** Limits with their unit, which stays beside the upper one. */
function Limits({ words }: { words: string }) {
  const [lower, upper] = words.split(/(?<= to )/);
  return (
    <>
      {lower}
      <span className={styles.whole}>{upper}</span>
    </>
  );
}

function densityColumns(
  categories: readonly CountCategory[],
  limitsTitled: LimitsTitle,
): readonly Column<DensityRecord>[] {
  const name = (key: string) => categories.find((one) => one.key === key)?.name ?? key;
  return [
    { key: "of", title: "of", cell: (row) => name(row.of), names: true },
    { key: "shown", title: "density ± U", cell: (row) => <Figure text={row.shown} />, unbroken: true },
    { key: "limits", title: limitsTitled, cell: (row) => <Limits words={limitsOfRecord(row) ?? ""} /> },
  ];
}

interface IntervalsProps {
  readonly results: CountResults;
  readonly unit: string;
  readonly scatter: ReactNode;
}

function Intervals({ results, unit, scatter }: IntervalsProps) {
  const { poisson, betweenFields, poissonSuppressed, dispersion, shortcut } = results;
  return (
    <section aria-label="Intervals">
      <h2>95 % interval of the count ({unit})</h2>
      <dl className={styles.pair}>
        <div data-off={poissonSuppressed}>
          <dt>if they lie at random</dt>
          <dd>{intervalWords(poisson)}</dd>
        </div>
        <div>
          <dt>from scatter between fields</dt>
          <dd>{betweenFields ? intervalWords(betweenFields) : "from two fields on"}</dd>
        </div>
      </dl>
      {dispersion ? (
        <p>
          <StateMark state={dispersion.verdict === "clustered" ? "warn" : "none"} /> {dispersion.meaning}
        </p>
      ) : null}
      {dispersion ? scatter : null}
      {shortcut === null ? null : (
        <p className={styles.soft}>
          2/√n would say ± {percent(shortcut)}
          {poissonSuppressed ? ": far too good here" : ""}.
        </p>
      )}
    </section>
  );
}

function shareColumns(definition: CountMethodDefinition): readonly Column<CategoryResult>[] {
  const columns: Column<CategoryResult>[] = [
    { key: "name", title: "category", cell: (row) => row.name, names: true },
    { key: "count", title: "count", cell: (row) => objects(Number(row.count)), number: true },
    { key: "share", title: "share (95 %)", cell: shareWords, number: true },
  ];
  if (definition.shareClasses) {
    columns.push({ key: "class", title: "class", cell: (row) => row.share?.class ?? "" });
  }
  return columns;
}
