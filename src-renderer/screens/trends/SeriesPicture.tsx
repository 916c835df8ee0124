import type { SIDE_BY_SIDE } from "#core/contract/records/trend.ts";
import { Button } from "../../parts/Button.tsx";
import { ownSettings } from "../../window/own-settings.ts";
import { ExportOutcome } from "../exchange/ExportOutcome.tsx";
import { useExport } from "../exchange/use-export.ts";

/** Saves the histories as they stand side by side as an SVG file; says where it went. */
export function useSeriesPicture(view: (typeof SIDE_BY_SIDE)[number], id: string) {
  const { view: outcome, busy, begin, cancel } = useExport();
  const write = (): Promise<void> => {
    const { decimalSign, dateForm } = ownSettings();
    return begin((client) =>
      client("trends.seriesPicture", { view, id, notation: { decimalSign, dateForm } }),
    );
  };
  return {
    button: (
      <Button disabled={busy} onClick={() => void write()}>
        {busy ? "Writing …" : "Picture"}
      </Button>
    ),
    notice: <ExportOutcome view={outcome} cancel={cancel} covers="The file" />,
  };
}
