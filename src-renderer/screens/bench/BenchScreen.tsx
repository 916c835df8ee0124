import type { BenchOverview } from "#core/contract/records/bench.ts";
import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { DueWorkPanel } from "./DueWorkPanel.tsx";
import { FirstSteps } from "./FirstSteps.tsx";
import { firstSteps } from "./first-steps.ts";
import { JobList } from "./JobList.tsx";
import { jobsOfToday } from "./jobs.ts";
import { PlanPanel } from "./plan/PlanPanel.tsx";
import { TurretPanel } from "./TurretPanel.tsx";
import { WorkList } from "./WorkList.tsx";
import { WorkOutPanel } from "./work-out/WorkOutPanel.tsx";

/** The bench at a glance: what needs doing, and every turret with its factors. */
export function BenchScreen() {
  const overview = useCall("bench.overview", {});
  const status = useCall("bench.status", {});
  return (
    <ScreenFrame title="Bench">
      <CallNotice calls={[overview]} waiting="Reading the bench …" />
      {status.data?.notices.map((notice) => (
        <Notice key={notice}>{notice}</Notice>
      ))}
      {overview.data ? <Overview overview={overview.data} /> : null}
    </ScreenFrame>
  );
}

function Overview({ overview }: { overview: BenchOverview }) {
  const sheets = useCall("sheets.list", {});
  const micrometers = useCall("micrometers.list", {});
  const steps = firstSteps(overview, micrometers.data?.[0]?.id ?? null);
  const beginning = steps.some((step) => !step.done);
  return (
    <>
      {beginning ? <FirstSteps steps={steps} /> : <JobList {...jobsOfToday(overview, sheets.data ?? [])} />}
      {beginning ? null : <DueWorkPanel micrometers={micrometers.data ?? []} />}
      {beginning ? null : <WorkList />}
      {overview.microscopes.map(({ microscope, trains }) => (
        <TurretPanel key={microscope.id} microscope={microscope} trains={trains} />
      ))}
      <PlanPanel overview={overview} />
      <WorkOutPanel overview={overview} />
    </>
  );
}
