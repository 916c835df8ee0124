import type { ReactNode } from "react";
import { PartTabs } from "../../parts/layout/PartTabs.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import type { ShelfName } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ExchangeShelf } from "../exchange/ExchangeShelf.tsx";
import { ImportShelf } from "../exchange/ImportShelf.tsx";
import { ReportShelf } from "../report/ReportShelf.tsx";
import { BackupShelf } from "./BackupShelf.tsx";
import { CalibrationShelf } from "./CalibrationShelf.tsx";
import type { RecordsLocation } from "./records-location.ts";
import { SheetRecord } from "./SheetRecord.tsx";
import { SheetShelf } from "./SheetShelf.tsx";
import { TrailShelf } from "./TrailShelf.tsx";
import { VerifyShelf } from "./VerifyShelf.tsx";

const SHELF_OF: Readonly<Record<ShelfName, (props: { readonly location: RecordsLocation }) => ReactNode>> = {
  sheets: ({ location }) =>
    location.recordId ? <SheetRecord sheetId={location.recordId} /> : <SheetShelf />,
  calibrations: CalibrationShelf,
  exchange: ExchangeShelf,
  import: ImportShelf,
  trail: TrailShelf,
  verify: VerifyShelf,
  backups: BackupShelf,
  report: ({ location }) =>
    location.recordId === null ? <SheetShelf /> : <ReportShelf sheetId={location.recordId} />,
};

/** What has been measured, decided and done at this bench. */
export function RecordsScreen({ location }: { location: RecordsLocation }) {
  const navigation = useNavigation();
  const Shelf = SHELF_OF[location.shelf];
  return (
    <ScreenFrame
      title="Records"
      tabs={
        <PartTabs
          label="Records"
          current={location.shelf === "report" ? "sheets" : location.shelf}
          onChoose={(shelf) => navigation.go({ screen: "records", shelf, recordId: null })}
          parts={[
            { key: "sheets", words: "Sheets" },
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
      <Shelf location={location} />
    </ScreenFrame>
  );
}
