import type { ReactNode } from "react";
import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { TabName } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ExchangeTab } from "../exchange/ExchangeTab.tsx";
import { ImportTab } from "../exchange/ImportTab.tsx";
import { ReportTab } from "../report/ReportTab.tsx";
import { BackupsTab } from "./BackupsTab.tsx";
import { CalibrationsTab } from "./CalibrationsTab.tsx";
import type { RecordsLocation } from "./records-location.ts";
import { SheetRecord } from "./SheetRecord.tsx";
import { SheetsTab } from "./SheetsTab.tsx";
import { SummaryTab } from "./SummaryTab.tsx";
import { TrailTab } from "./TrailTab.tsx";
import { VerifyTab } from "./VerifyTab.tsx";

const TAB_OF: Readonly<Record<TabName, (props: { readonly location: RecordsLocation }) => ReactNode>> = {
  sheets: ({ location }) => (location.recordId ? <SheetRecord sheetId={location.recordId} /> : <SheetsTab />),
  summary: SummaryTab,
  calibrations: CalibrationsTab,
  exchange: ExchangeTab,
  import: ImportTab,
  trail: TrailTab,
  verify: VerifyTab,
  backups: BackupsTab,
  report: ({ location }) =>
    location.recordId === null ? <SheetsTab /> : <ReportTab sheetId={location.recordId} />,
};

/** What has been measured, decided and done at this bench. */
export function RecordsScreen({ location }: { location: RecordsLocation }) {
  const navigation = useNavigation();
  const Tab = TAB_OF[location.tab];
  return (
    <ScreenFrame
      title="Records"
      tabs={
        <PartTabs
          label="Records"
          current={location.tab === "report" ? "sheets" : location.tab}
          onChoose={(tab) => navigation.go({ screen: "records", tab, recordId: null })}
          parts={[
            { key: "sheets", words: "Sheets" },
            { key: "summary", words: "Summary" },
            { key: "calibrations", words: "Calibrations" },
            { key: "exchange", words: "Export and check" },
            { key: "import", words: "Import" },
            { key: "trail", words: "Audit trail" },
            { key: "verify", words: "Verify" },
            { key: "backups", words: "Backups" },
          ]}
        />
      }
    >
      <Tab location={location} />
    </ScreenFrame>
  );
}
