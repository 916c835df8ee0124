import type { ReactNode } from "react";
import { useCall } from "../../bridge/use-call.ts";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { Location, TrendPart } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommand } from "../../window/use-command.tsx";
import { FactorOfDay } from "./FactorOfDay.tsx";
import { OneTrain } from "./OneTrain.tsx";
import { SideBySideView } from "./SideBySideView.tsx";

export type TrendsLocation = Extract<Location, { screen: "trends" }>;

const PARTS: Readonly<Record<TrendPart, (location: TrendsLocation) => ReactNode>> = {
  train: ({ subjectId }) => <OneTrain trainId={subjectId} />,
  microscope: ({ subjectId }) => <SideBySideView view="microscope" subjectId={subjectId} />,
  people: ({ subjectId }) => <SideBySideView view="people" subjectId={subjectId} />,
  micrometer: ({ subjectId }) => <SideBySideView view="micrometer" subjectId={subjectId} />,
  day: () => <FactorOfDay />,
};

/** How factors behave over time: one train, several side by side, and the factor of any day. */
export function TrendsScreen({ location }: { location: TrendsLocation }) {
  const navigation = useNavigation();
  useCommand("trends.day", () => navigation.go({ screen: "trends", part: "day", subjectId: null }));
  return (
    <ScreenFrame
      title="Trends"
      tabs={
        <PartTabs
          label="Trends"
          current={location.part}
          onChoose={(part) => navigation.go({ screen: "trends", part, subjectId: null })}
          parts={[
            { key: "train", words: "One train" },
            { key: "microscope", words: "One microscope" },
            { key: "people", words: "People" },
            { key: "micrometer", words: "One micrometer" },
            { key: "day", words: "On a day" },
          ]}
        />
      }
    >
      {PARTS[location.part](location)}
      <Foot />
    </ScreenFrame>
  );
}

function Foot() {
  const overview = useCall("bench.overview", {});
  return overview.data ? <PaperFoot asOf={overview.data.asOf} /> : null;
}
