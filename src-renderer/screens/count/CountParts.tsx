import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { Location } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ControlsTab } from "./controls/ControlsTab.tsx";
import { CountsTab } from "./counts/CountsTab.tsx";
import { ListsTab } from "./lists/ListsTab.tsx";
import { MethodsTab } from "./methods/MethodsTab.tsx";
import { RecountsTab } from "./recounts/RecountsTab.tsx";

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
            { key: "lists", words: "Lists" },
            { key: "recounts", words: "Recounts" },
            { key: "controls", words: "Controls" },
          ]}
        />
      }
    >
      {location.part === "counts" ? <CountsTab /> : null}
      {location.part === "methods" ? <MethodsTab recordId={location.recordId} /> : null}
      {location.part === "lists" ? <ListsTab recordId={location.recordId} /> : null}
      {location.part === "controls" ? <ControlsTab recordId={location.recordId} /> : null}
      {location.part === "recounts" ? <RecountsTab recordId={location.recordId} /> : null}
    </ScreenFrame>
  );
}
