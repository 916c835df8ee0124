import { useState } from "react";
import type { Microscope, Objective } from "#core/contract/records/microscope.ts";
import { datedObjectiveWords } from "#core/optics/train-name.ts";
import { objectivesOnTurret, objectivesReplaced } from "#core/optics/turret.ts";
import { Button } from "../../../parts/Button.tsx";
import { ObjectiveRing } from "../../../parts/bench-words/ObjectiveRing.tsx";
import type { Column } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { EventsPanel } from "../item/EventsPanel.tsx";
import { ItemPanel } from "../item/ItemPanel.tsx";
import type { Item } from "../item/ServiceStatePanel.tsx";
import { EyepiecesPanel, eyepiecePart } from "./EyepiecesPanel.tsx";
import { type Part, PartTable } from "./PartTable.tsx";
import { ReplaceObjectiveForm } from "./ReplaceObjectiveForm.tsx";

const OBJECTIVES: readonly Column<Objective>[] = [
  { key: "position", title: "Position", number: true, cell: (one) => one.position },
  {
    key: "optics",
    title: "Objective",
    names: true,
    cell: (one) => (
      <ObjectiveRing magnification={one.magnification} numericalAperture={one.numericalAperture} />
    ),
  },
  { key: "immersion", title: "Immersion", cell: (one) => one.immersion },
  { key: "serial", title: "Serial number", cell: (one) => one.serial || "not recorded" },
];

export interface MicroscopeDetailProps {
  readonly microscope: Microscope;
  readonly onForm: (form: "objective" | "eyepiece" | "card") => void;
}

/** One microscope in full. */
export function MicroscopeDetail({ microscope, onForm }: MicroscopeDetailProps) {
  const [replacing, setReplacing] = useState<string | null>(null);
  const objectives = objectivesOnTurret(microscope.objectives);
  const replaced = objectivesReplaced(microscope.objectives);
  const leaving = objectives.find((one) => one.id === replacing);
  const replace: Column<Objective> = {
    key: "replace",
    title: <span data-screen-only>Replace</span>,
    cell: (one) => (
      <Button
        look="quiet"
        aria-label={`Replace ${objectivePart(one).name}`}
        onClick={() => setReplacing(one.id)}
      >
        Replace
      </Button>
    ),
  };
  return (
    <>
      <ItemPanel
        item={{
          kind: "microscope",
          id: microscope.id,
          name: microscope.name,
          maker: microscope.maker,
          model: microscope.model,
          serial: microscope.serial,
        }}
        facts={[
          ["Maker", microscope.maker],
          ["Model", microscope.model],
          ["Serial number", microscope.serial],
          [
            "Head",
            microscope.headCompensated
              ? "compensated: same tube length at every interpupillary distance"
              : "not compensated: the factor depends on the person's interpupillary distance",
          ],
          [
            "Intermediate magnifications",
            microscope.intermediateMagnifications.map((one) => `${one}×`).join(", "),
          ],
        ]}
        registeredAt={microscope.registeredAt}
        parts={partsOf(microscope)}
        actions={<Button onClick={() => onForm("card")}>Bench card</Button>}
      />
      <EventsPanel microscope={microscope} />
      <Panel
        title="Objectives on the turret"
        level={2}
        actions={<Button onClick={() => onForm("objective")}>Add an objective</Button>}
      >
        <PartTable
          caption={`Objectives of ${microscope.name}`}
          columns={[...OBJECTIVES, replace]}
          rows={objectives}
          partOf={objectivePart}
          empty="No objective."
        />
        {leaving ? (
          <ReplaceObjectiveForm
            key={leaving.id}
            microscope={microscope}
            objective={leaving}
            onDone={() => setReplacing(null)}
          />
        ) : null}
      </Panel>
      {replaced.length > 0 ? (
        <Panel title="Objectives that left the turret" level={2}>
          <PartTable
            caption={`Objectives that left the turret of ${microscope.name}`}
            columns={[...OBJECTIVES, ...leftColumns(microscope)]}
            rows={replaced}
            partOf={objectivePart}
            empty="None."
          />
        </Panel>
      ) : null}
      <EyepiecesPanel microscope={microscope} onAdd={() => onForm("eyepiece")} />
    </>
  );
}

function leftColumns({ objectives }: Microscope): readonly Column<Objective>[] {
  const nextOf = ({ replaced }: Objective) => objectives.find((one) => one.id === replaced?.by);
  return [
    { key: "left", title: "Left on", unbroken: true, cell: ({ replaced }) => replaced?.on ?? "–" },
    {
      key: "next",
      title: "In its place",
      words: true,
      cell: (one) => {
        const next = nextOf(one);
        return next ? `${datedObjectiveWords(next)}${next.serial ? `, no. ${next.serial}` : ""}` : "–";
      },
    },
  ];
}

function objectivePart(one: Objective): Part {
  const name = `objective ${datedObjectiveWords(one)}, position ${one.position}`;
  return {
    kind: "objective",
    id: one.id,
    name,
    touched: { kind: "objective", id: one.id },
    words: { serial: one.serial },
  };
}

function partsOf({ objectives, eyepieces }: Microscope): readonly Item[] {
  return [...objectivesOnTurret(objectives).map(objectivePart), ...eyepieces.map(eyepiecePart)];
}
