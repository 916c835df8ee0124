import type { Method } from "#core/contract/records/method.ts";
import { unitOfDerived, wordsOfDerived } from "#core/measurement/derived-kind.ts";
import { limitWords } from "#core/measurement/method-limits.ts";
import { sizeClassWords } from "#core/measurement/size-classes.ts";
import { objectClassTable } from "#core/methods/class-tables.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import {
  CONDITION_WORDS,
  COVERAGE_WORDS,
  EDGE_WORDS,
  END_WORDS,
  ENTRY_WORDS,
  PERCENTILE_WORDS,
  REPORT_WORDS,
  ROUNDING_WORDS,
} from "../../../parts/bench-words/method-words.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { Facts } from "../../../parts/layout/Facts.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { ProvenForMethod } from "../../../parts/people/ProvenForMethod.tsx";

function partsWords({ parts }: Method["definition"]["dimensions"][number]): string {
  return parts === undefined ? "" : `, read in up to ${parts} parts, their sum is the size`;
}

function unitWords(derived: Method["definition"]["derived"][number]): string {
  const unit = unitOfDerived(derived);
  return unit === "1" ? "" : `, ${unit}`;
}

/** One version of a method in full. */
export function MethodDetail({ method, onVersion }: { method: Method; onVersion: () => void }) {
  const nameOf = usePersonName();
  const { definition } = method;
  const { reading } = definition;
  return (
    <>
      <Panel
        title={definition.name}
        lead={`Version ${method.version}, defined ${shownInstant(method.definedAt)} by ${nameOf(method.definedBy)}`}
        actions={<Button onClick={onVersion}>New version</Button>}
      >
        <Facts
          facts={[
            ...definition.dimensions.map(
              (dimension, index) =>
                [
                  `Dimension ${index + 1}`,
                  `${dimension.name} (column ${dimension.key})${partsWords(dimension)}`,
                ] as const,
            ),
            ["Edges", definition.edgeConvention],
            ["Least divisions", `${definition.minimumDivisions} div`],
            ["Coverage", COVERAGE_WORDS[definition.coverage]],
            ["Rounding", ROUNDING_WORDS[definition.rounding]],
            ...definition.derived.map(
              (one) => [one.name, `${wordsOfDerived(one)} (column ${one.key}${unitWords(one)})`] as const,
            ),
            ...definition.classes.map(
              ({ of, tableId }) => [`Classes of ${of}`, objectClassTable(tableId)?.name ?? tableId] as const,
            ),
            ...(definition.limits ?? []).map(
              (limit, at) => [`Limits ${at + 1}`, limitWords(limit, definition)] as const,
            ),
            ...(definition.sizeClasses
              ? [["Counted by size", sizeClassWords(definition.sizeClasses, definition)] as const]
              : []),
            ["Report string", REPORT_WORDS[definition.report.kind]],
            [
              "Percentiles",
              `${definition.percentiles.lower} % and ${definition.percentiles.upper} %, ${PERCENTILE_WORDS[definition.percentiles.type]}`,
            ],
            ["Note", definition.note],
          ]}
        />
      </Panel>
      <Panel title="How a reading is made">
        <Facts
          facts={[
            ["What is read", ENTRY_WORDS[definition.entry]],
            ["Readings of each dimension read whole", String(definition.repeats)],
            [
              "Wanted U of a size",
              definition.wantedPercent === "" ? "none" : `${definition.wantedPercent} %`,
            ],
            ...CONDITION_WORDS.map(
              ({ key, name, unit }) =>
                [name, reading[key] === "" ? "taken as known" : `${reading[key]} ${unit}`.trim()] as const,
            ),
            ["Ends of the object", END_WORDS[reading.ends]],
            ["Edge errors", EDGE_WORDS[reading.edgeKind]],
          ]}
        />
      </Panel>
      <ProvenForMethod exercises={definition.practice} />
    </>
  );
}
