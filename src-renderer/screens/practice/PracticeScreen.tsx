import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { LocationOf } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { AtTheEyepiece } from "./AtTheEyepiece.tsx";
import { AttemptOutcome } from "./AttemptOutcome.tsx";
import { ClassPage } from "./ClassPage.tsx";
import { ClassResults } from "./ClassResults.tsx";
import { CompetencePanel } from "./CompetencePanel.tsx";
import { CriteriaForm } from "./CriteriaForm.tsx";
import { ExerciseList, useBegin } from "./ExerciseList.tsx";
import { FreeView } from "./FreeView.tsx";
import { OwnReadingPage } from "./OwnReadingPage.tsx";
import styles from "./Practice.module.css";

/** Learning to read at a drawn eyepiece, beside the real work and apart from it. */
export function PracticeScreen({ location }: { location: LocationOf<"practice"> }) {
  const navigation = useNavigation();
  const { part, attemptId } = location;
  const open = (id: string): void => navigation.go({ screen: "practice", part: "exercises", attemptId: id });
  return (
    <ScreenFrame
      title="Practice"
      tabs={
        <PartTabs
          label="Practice"
          current={part}
          onChoose={(chosen) => navigation.go({ screen: "practice", part: chosen, attemptId: null })}
          parts={[
            { key: "exercises", words: "Exercises" },
            { key: "free", words: "Free view" },
            { key: "own", words: "Your reading" },
            { key: "results", words: "Results" },
            { key: "class", words: "Class" },
            { key: "proven", words: "Proven" },
            { key: "criteria", words: "Criteria" },
          ]}
        />
      }
    >
      <div className={styles.stack}>
        {part === "exercises" && attemptId === null ? <ExerciseList onOpen={open} /> : null}
        {part === "exercises" && attemptId !== null ? <Attempt attemptId={attemptId} onOpen={open} /> : null}
        {part === "free" ? <FreeView /> : null}
        {part === "own" ? <OwnReadingPage /> : null}
        {part === "results" ? <ClassResults onOpen={open} /> : null}
        {part === "class" ? <ClassPage onOpen={open} /> : null}
        {part === "proven" ? <CompetencePanel onOpen={open} /> : null}
        {part === "criteria" ? <CriteriaForm /> : null}
      </div>
    </ScreenFrame>
  );
}

function Attempt({ attemptId, onOpen }: { attemptId: string; onOpen: (attemptId: string) => void }) {
  const attempt = useCall("practice.get", { attemptId });
  const status = useCall("bench.status", {});
  const begin = useBegin(onOpen);
  const mine = attempt.data?.personId === status.data?.personInUse?.id;
  return (
    <>
      <CallNotice calls={[attempt]} waiting="Reading the attempt …" />
      {attempt.data && attempt.data.endedAt === null && mine ? (
        <AtTheEyepiece attempt={attempt.data} onEnded={attempt.reload} />
      ) : null}
      {attempt.data && (attempt.data.endedAt !== null || !mine) ? (
        <AttemptOutcome
          attempt={attempt.data}
          onAgain={mine ? () => begin.start(attempt.data?.exercise ?? "tenths", "") : null}
        />
      ) : null}
    </>
  );
}
