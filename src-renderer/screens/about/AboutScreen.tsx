import type { ReactNode } from "react";
import type { AboutPart, Location } from "../../app/location.ts";
import { useNavigation } from "../../app/navigation-context.tsx";
import { PartTabs } from "../../parts/PartTabs.tsx";
import { ScreenFrame } from "../../parts/ScreenFrame.tsx";
import { CautionsPart } from "./CautionsPart.tsx";
import { LicencesPart } from "./LicencesPart.tsx";
import { ModelPart } from "./ModelPart.tsx";
import { ProgramPart } from "./ProgramPart.tsx";
import { SelftestPart } from "./SelftestPart.tsx";

const PART_OF: Readonly<Record<AboutPart, () => ReactNode>> = {
  program: ProgramPart,
  cautions: CautionsPart,
  model: ModelPart,
  selftest: SelftestPart,
  licences: LicencesPart,
};

/** What the program is, what it assumes, and the proof that it computes as published. */
export function AboutScreen({ location }: { location: Extract<Location, { screen: "about" }> }) {
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
            { key: "cautions", words: "Cautions" },
            { key: "model", words: "Uncertainty" },
            { key: "selftest", words: "Self-test" },
            { key: "licences", words: "Licences" },
          ]}
        />
      }
    >
      <Part />
    </ScreenFrame>
  );
}
