import type { ReactNode } from "react";
import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { AboutPart, Location } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { CautionsPart } from "./CautionsPart.tsx";
import { FaultReport } from "./FaultReport.tsx";
import { FilePart } from "./FilePart.tsx";
import { HandbookPart } from "./HandbookPart.tsx";
import { LicencesPart } from "./LicencesPart.tsx";
import { ModelPart } from "./ModelPart.tsx";
import { NewsPart } from "./NewsPart.tsx";
import { ProgramPart } from "./ProgramPart.tsx";
import { SelftestPart } from "./SelftestPart.tsx";

function ProgramAndFile() {
  return (
    <>
      <ProgramPart />
      <FilePart />
      <FaultReport />
    </>
  );
}

type AboutLocation = Extract<Location, { screen: "about" }>;

const PART_OF: Readonly<Record<AboutPart, (at: AboutLocation) => ReactNode>> = {
  program: ProgramAndFile,
  handbook: HandbookPart,
  news: NewsPart,
  cautions: CautionsPart,
  model: ModelPart,
  selftest: SelftestPart,
  licences: LicencesPart,
};

/** What the program is, what it assumes, and the proof that it computes as published. */
export function AboutScreen({ location }: { location: AboutLocation }) {
  const navigation = useNavigation();
  const Part = PART_OF[location.part];
  return (
    <ScreenFrame
      title="About"
      tabs={
        <PartTabs
          label="About"
          current={location.part}
          onChoose={(part) => navigation.go({ screen: "about", part })}
          parts={[
            { key: "program", words: "Program" },
            { key: "handbook", words: "Handbook" },
            { key: "news", words: "What changed" },
            { key: "cautions", words: "Cautions" },
            { key: "model", words: "Uncertainty" },
            { key: "selftest", words: "Self-test" },
            { key: "licences", words: "Licences" },
          ]}
        />
      }
    >
      <Part {...location} />
    </ScreenFrame>
  );
}
