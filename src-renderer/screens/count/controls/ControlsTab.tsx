import { useState } from "react";
import type { ControlKind, ControlPoint, ControlSeries } from "#core/contract/records/control-sample.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import { CONTROL_RISK, LEAST_EARLIER } from "#core/counting/controls/control-limits.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownDay } from "../../../parts/bench-words/instant.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../../parts/layout/PrintButton.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { ownSettings } from "../../../window/own-settings.ts";
import { ExportOutcome } from "../../exchange/ExportOutcome.tsx";
import { useExport } from "../../exchange/use-export.ts";
import styles from "../CountTab.module.css";
import { SeriesPlot } from "../series/SeriesPlot.tsx";
import { endsWords, fromWords, KIND_CHOICES, KIND_WORDS, three } from "./control-words.ts";

/** Blanks, samples of known content and duplicates of a method, each kind as a series with its limits. */
export function ControlsTab({ recordId }: { recordId: string | null }) {
  const methods = useCall("countMethods.list", {});
  const [kind, setKind] = useState<ControlKind>("recovery");
  const navigation = useNavigation();
  const all = methods.data ?? [];
  const chosen = all.find(({ familyId }) => familyId === recordId) ?? all[0] ?? null;
  if (!methods.data) return <CallNotice calls={[methods]} waiting="Fetching the count methods …" />;
  if (!chosen) return <p>No count method on this bench yet: a count takes one over.</p>;
  return (
    <div className={styles.stack}>
      <div data-screen-only>
        <FieldGrid>
          <SelectField
            id="controls-method"
            label="Method"
            value={chosen.familyId}
            choices={all.map(({ familyId, definition }) => ({ value: familyId, words: definition.name }))}
            onChange={(familyId) =>
              navigation.replace({ screen: "count", part: "controls", recordId: familyId })
            }
          />
          <SelectField
            id="controls-kind"
            label="Control samples"
            value={kind}
            choices={KIND_CHOICES}
            onChange={(value) =>
              setKind(KIND_CHOICES.find((one) => one.value === value)?.value ?? "recovery")
            }
          />
        </FieldGrid>
      </div>
      <Series key={`${chosen.familyId} ${kind}`} method={chosen} kind={kind} />
    </div>
  );
}

function Series({ method, kind }: { method: CountMethod; kind: ControlKind }) {
  const series = useCall("counts.controls", { familyId: method.familyId, kind });
  const { view, busy, begin, cancel } = useExport();
  const { data } = series;
  const isEmpty = data === undefined || data.points.length === 0;
  return (
    <Panel
      title={`${capital(KIND_WORDS[kind])}: ${method.definition.name}`}
      lead={RULES[kind]}
      actions={
        isEmpty ? null : (
          <>
            <Button
              disabled={busy}
              onClick={() =>
                void begin((client) =>
                  client("counts.controlsWorkbook", {
                    familyId: method.familyId,
                    kind,
                    paper: ownSettings().paper,
                  }),
                )
              }
            >
              {busy ? "Writing …" : "Workbook"}
            </Button>
            <PrintButton />
          </>
        )
      }
    >
      <CallNotice calls={[series]} waiting="Reading the series …" />
      <ExportOutcome view={view} cancel={cancel} />
      {data ? <Found series={data} /> : null}
      <PaperFoot />
    </Panel>
  );
}

const IN_A_HUNDRED = CONTROL_RISK * 100;
const RULES: Readonly<Record<ControlKind, string>> = {
  blank: `Each against the earlier ones: a blank is beyond when chance gives so many objects in less than ${IN_A_HUNDRED} of 100.`,
  recovery: `Each against the ones before it, at least ${LEAST_EARLIER}: mean ± t·s·√(1 + 1/n), which ${IN_A_HUNDRED} of 100 pass with nothing wrong; up to 3 where few and many objects are counted in turn.`,
  duplicate: `Each against the ones before it, at least ${LEAST_EARLIER}: t·√(Σd²/n), which ${IN_A_HUNDRED} of 100 pass with nothing wrong; up to 3 where few and many objects are counted in turn.`,
};

function Found({ series }: { series: ControlSeries }) {
  const { points, stated, source, without, isClustered, unit, kind } = series;
  const beyond = points.filter(({ isBeyond }) => isBeyond);
  const outside = points.filter(({ isOutsideStated }) => isOutsideStated);
  return (
    <div className={styles.stack}>
      {points.length === 0 ? null : (
        <>
          <SeriesPlot
            title={`${capital(KIND_WORDS[kind])}, ${unit}`}
            description={`${countedNoun(points.length, "control sample")}; ${beyond.length} beyond the limits of the earlier ones.`}
            points={points.map(({ number, value, limits, isBeyond, isOutsideStated }) => ({
              name: number,
              value: Number(value),
              limits: limits && ends(limits),
              isOutside: isBeyond || isOutsideStated,
            }))}
            stated={stated && ends(stated)}
          />
          <p role="status">
            {namedWords("beyond what the earlier ones allow", beyond)}{" "}
            {stated
              ? namedWords(
                  `outside the stated limits (${endsWords(stated)}${source === "" ? "" : `; ${source}`})`,
                  outside,
                )
              : "No limits are stated for this method."}
          </p>
        </>
      )}
      {isClustered ? (
        <p>
          Objects cluster in some of these counts: p by Poisson’s law is then too small, and a blank may be
          named with nothing wrong.
        </p>
      ) : null}
      {without.length > 0 ? <p>{`Without a value: ${without.join(" ")}`}</p> : null}
      <Table series={series} />
    </div>
  );
}

function Table({ series: { points, unit, kind } }: { series: ControlSeries }) {
  const navigation = useNavigation();
  const hasOwn = points.some(({ own }) => own !== null);
  const columns: readonly Column<ControlPoint>[] = [
    { key: "number", title: "Count", cell: ({ number }) => number, names: true, unbroken: true },
    { key: "day", title: "Closed", cell: ({ closedAt }) => shownDay(closedAt), unbroken: true },
    { key: "sample", title: "Sample", cell: ({ sample }) => sample, words: true },
    { key: "from", title: "From", cell: fromWords, words: true },
    { key: "value", title: unit, cell: ({ value }) => three(value), number: true },
    ...(hasOwn
      ? [
          {
            key: "own",
            title: "95 % limits",
            cell: ({ own }: ControlPoint) => endsWords(own),
            unbroken: true,
          },
        ]
      : []),
    { key: "limits", title: "By the earlier ones", cell: ({ limits }) => endsWords(limits), unbroken: true },
    { key: "verdict", title: "Verdict", cell: verdictOf },
    {
      key: "open",
      title: <span data-screen-only>Act</span>,
      cell: ({ countId, number }) => (
        <Button
          look="quiet"
          aria-label={`Open count ${number}`}
          onClick={() => navigation.go({ screen: "count", part: "counts", recordId: countId })}
        >
          Open
        </Button>
      ),
    },
  ];
  return (
    <DataTable
      caption={capital(KIND_WORDS[kind])}
      captionHidden
      columns={columns}
      rows={points}
      rowKey={({ countId }) => countId}
      empty="None is closed yet. A closed count is named as a control sample on its own page."
    />
  );
}

function verdictOf({ isBeyond, isOutsideStated, limits }: ControlPoint): string {
  const said = [...(isBeyond ? ["beyond"] : []), ...(isOutsideStated ? ["outside what is stated"] : [])];
  if (said.length > 0) return said.join(", ");
  return limits === null ? "no limits yet" : "within";
}

function namedWords(what: string, points: readonly ControlPoint[]): string {
  if (points.length === 0) return `None lies ${what}.`;
  return `${capital(what)}: ${points.map(({ number }) => number).join(", ")}.`;
}

const end = (text: string | null): number | null => (text === null ? null : Number(text));
const ends = ({ lower, upper }: NonNullable<ControlPoint["limits"]>) => ({
  lower: end(lower),
  upper: end(upper),
});
const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
