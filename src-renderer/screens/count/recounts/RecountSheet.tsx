import type { CountCategory } from "#core/contract/records/count-method.ts";
import type { Recount, RecountReport } from "#core/contract/records/recount.ts";
import { probabilityWords } from "#core/quantity/probability-words.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { problemsOfCall, problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { StateMark } from "../../../parts/StateMark.tsx";
import styles from "../CountTab.module.css";

/** One recount: the drawn fields entered one after the other, the first result hidden until it is finished. */
export function RecountSheet({ recount }: { recount: Recount }) {
  const count = useCall("counts.get", { countId: recount.countId });
  const title = `Recount of ${recount.countNumber}`;
  if (!count.data) return <CallNotice calls={[count]} waiting="Fetching the count …" />;
  const { categories } = count.data;
  if (recount.report) {
    return (
      <Panel title={title} lead={recount.sample}>
        <Report report={recount.report} categories={categories} />
      </Panel>
    );
  }
  const next = nextField(recount);
  return (
    <Panel
      title={title}
      lead={
        recount.kind === "fields"
          ? `Fields drawn: ${recount.fields.join(", ")}. The first result is hidden until you finish.`
          : "Count this slide again in fields of your own. The first result is hidden until you finish."
      }
    >
      <div className={styles.stack}>
        <DataTable
          caption="Entered"
          columns={[
            { key: "field", title: "field", cell: (entry) => entry.field, names: true },
            ...categories.map(
              ({ key, name }): Column<Recount["entries"][number]> => ({
                key,
                title: name,
                cell: (entry) => entry.counts[key] ?? "0",
                number: true,
              }),
            ),
          ]}
          rows={recount.entries}
          rowKey={(entry) => String(entry.field)}
          empty="No field has been entered yet."
        />
        {next === null ? null : (
          <FieldEntry key={next} recount={recount} field={next} categories={categories} />
        )}
        {next === null || (recount.kind === "slide" && recount.entries.length > 0) ? (
          <Finish recount={recount} />
        ) : null}
      </div>
    </Panel>
  );
}

/** The first field that is still to be entered; a whole slide has always one more. */
function nextField({ kind, fields, entries }: Recount): number | null {
  if (kind === "slide") return Math.max(0, ...entries.map((entry) => entry.field)) + 1;
  return fields.find((field) => !entries.some((entry) => entry.field === field)) ?? null;
}

interface FieldEntryProps {
  readonly recount: Recount;
  readonly field: number;
  readonly categories: readonly CountCategory[];
}

function FieldEntry({ recount, field, categories }: FieldEntryProps) {
  const client = useClient();
  const form = useForm<{ readonly counts: Readonly<Record<string, string>> }, Recount>({
    id: `recount-${recount.id}-${field}`,
    what: `field ${field} of the recount`,
    initial: { counts: {} },
    check: ({ counts }) =>
      problemsOfNumbers(
        categories.map(({ key }) => [
          `counts.${key}`,
          counts[key] ?? "",
          { optional: true, sign: "not negative" },
        ]),
      ),
    send: ({ counts }, requestId) =>
      client("recounts.enter", {
        requestId,
        recountId: recount.id,
        field,
        counts: Object.fromEntries(Object.entries(counts).filter(([, typed]) => typed.trim() !== "")),
      }),
    onSaved: () => undefined,
  });
  return (
    <FormFrame form={form} submit={`Enter field ${field}`} label={`Field ${field}`}>
      <FieldGrid title={`Field ${field}`}>
        {categories.map(({ key, name }, at) => (
          <NumberField
            key={key}
            {...form.bind(`counts.${key}`, name)}
            optional="0 when empty"
            autoFocus={at === 0}
          />
        ))}
      </FieldGrid>
    </FormFrame>
  );
}

function Finish({ recount }: { recount: Recount }) {
  const client = useClient();
  const form = useForm<{ readonly intracounterDeviation: string }, Recount>({
    id: `recount-${recount.id}-finish`,
    what: "the end of the recount",
    initial: { intracounterDeviation: "" },
    check: (typed) => problemsOfCall("recounts.finish", typed),
    send: ({ intracounterDeviation }, requestId) =>
      client("recounts.finish", { requestId, recountId: recount.id, intracounterDeviation }),
    onSaved: () => undefined,
  });
  return (
    <FormFrame form={form} submit="Finish and compare" label="Finish the recount">
      <NumberField
        {...form.bind("intracounterDeviation", "The laboratory's own S_r of one counter")}
        optional
        hint="For the acceptance limit 2.77·X̄·S_r/2; without it the exact test alone decides."
      />
    </FormFrame>
  );
}

function Report({ report, categories }: { report: RecountReport; categories: readonly CountCategory[] }) {
  const { comparisons, acceptance, sameCounter, words } = report;
  const name = (of: string) =>
    of === "total" ? "total" : (categories.find((one) => one.key === of)?.name ?? of);
  return (
    <div className={styles.stack}>
      <p>
        <strong>{words}</strong>
      </p>
      <DataTable
        caption="First and second count"
        columns={[
          { key: "of", title: "of", cell: (one) => name(one.of), names: true },
          { key: "first", title: "first", cell: (one) => one.first, number: true },
          { key: "second", title: "second", cell: (one) => one.second, number: true },
          {
            key: "p",
            title: "p",
            cell: (one) => (one.p === null ? "" : probabilityWords(one.p)),
            number: true,
          },
          {
            key: "differs",
            title: "verdict",
            cell: (one) => (one.differs === null ? "not tested" : one.differs ? "differ" : "agree"),
          },
        ]}
        rows={comparisons}
        rowKey={(one) => one.of}
        empty="Nothing to compare."
      />
      {acceptance ? (
        <p>
          <StateMark state={acceptance.accepted ? "good" : "bad"} />{" "}
          {acceptance.accepted ? "Accepted" : "Rejected"}: difference of the roots{" "}
          {Number(acceptance.difference).toFixed(3)}, limit {Number(acceptance.limit).toFixed(3)} with S_r{" "}
          {acceptance.intracounterDeviation}.
        </p>
      ) : null}
      <p className={styles.soft}>
        {sameCounter ? "Counted by the same person." : "Counted by different people."}
      </p>
    </div>
  );
}
