import { Button } from "../../parts/Button.tsx";
import { ExportOutcome } from "../exchange/ExportOutcome.tsx";
import { useExport } from "../exchange/use-export.ts";

/** Writes the results of a class as a workbook, and says where it went. */
export function useClassWorkbook(classId: string) {
  const { view, busy, begin, cancel } = useExport();
  return {
    button: (
      <Button
        disabled={busy}
        onClick={() => void begin((client) => client("practice.classWorkbook", { classId }))}
      >
        {busy ? "Writing …" : "Workbook"}
      </Button>
    ),
    notice: <ExportOutcome view={view} cancel={cancel} />,
  };
}
