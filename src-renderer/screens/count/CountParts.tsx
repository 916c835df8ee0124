import type { Location } from "../../app/location.ts";
import { useNavigation } from "../../app/navigation-context.tsx";
import { PartTabs } from "../../parts/PartTabs.tsx";
import { ScreenFrame } from "../../parts/ScreenFrame.tsx";
import { MethodShelf } from "./MethodShelf.tsx";
import { RecountShelf } from "./RecountShelf.tsx";
import { TallyShelf } from "./TallyShelf.tsx";

export type CountLocation = Extract<Location, { screen: "count" }>;

/** The counts of the bench, the methods they follow, and the recounts that check them. */
export function CountParts({ location }: { location: CountLocation }) {
  const navigation = useNavigation();
  return (
    <ScreenFrame
      title="Count"
      tabs={
        <PartTabs
          label="Count"
          current={location.part}
          onChoose={(part) => navigation.go({ screen: "count", part, recordId: null })}
          parts={[
            { key: "counts", words: "Counts" },
            { key: "methods", words: "Methods" },
            { key: "recounts", words: "Recounts" },
          ]}
        />
      }
    >
      {location.part === "counts" ? <TallyShelf /> : null}
      {location.part === "methods" ? <MethodShelf recordId={location.recordId} /> : null}
      {location.part === "recounts" ? <RecountShelf recordId={location.recordId} /> : null}
    </ScreenFrame>
  );
}
