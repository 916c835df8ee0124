import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { Location } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { CountsShelf } from "./counts/CountsShelf.tsx";
import { ListShelf } from "./lists/ListShelf.tsx";
import { MethodShelf } from "./methods/MethodShelf.tsx";
import { RecountShelf } from "./recounts/RecountShelf.tsx";

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
          ]}
        />
      }
    >
      {location.part === "counts" ? <CountsShelf /> : null}
      {location.part === "methods" ? <MethodShelf recordId={location.recordId} /> : null}
      {location.part === "lists" ? <ListShelf recordId={location.recordId} /> : null}
      {location.part === "recounts" ? <RecountShelf recordId={location.recordId} /> : null}
    </ScreenFrame>
  );
}
