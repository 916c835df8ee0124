import { basename } from "node:path";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { findMicroscope } from "../store/microscope-repository.ts";
import { writeTrendWorkbook } from "../workbook/trend-workbook.ts";
import type { Deps } from "./deps.ts";
import { orUnwritable, placeFor } from "./export-place.ts";
import { localDate } from "./local-date.ts";
import { trainName } from "./train-name.ts";
import { trendContext, trendHistory } from "./trend-history.ts";
import { trendRecord } from "./trend-record.ts";
import { namesOfPeople, requireTrendTrain } from "./trends.ts";

/** Characters that some file system does not take. */
const UNSAFE = /[^\p{L}\p{N} ._-]+/gu;

/** The history of a train as a workbook of data, where the host says; null when the person cancels. */
export function trendExportServices(deps: Deps): HandlersOf<"trends.workbook"> {
  return {
    "trends.workbook": async ({ trainId }) => {
      const train = requireTrendTrain(deps.db, trainId);
      const microscope = findMicroscope(deps.db, train.microscopeId);
      const name = microscope ? trainName(train, microscope) : train.id;
      const stem = `Trend ${name}`.replaceAll("×", "x").replaceAll(UNSAFE, " ").trim();
      const path = await orUnwritable(deps.paths.exportFolder, () => placeFor(deps, stem, ".xlsx"));
      if (path === null) return null;
      const context = trendContext(deps.db, deps.clock.today());
      const history = trendHistory(context, train);
      const trend = trendRecord(context, history, namesOfPeople(deps.db), localDate);
      const programLine = `${deps.program.name} ${deps.program.version}`;
      const book = { train: name, trend, programLine, asOf: deps.clock.now() };
      const written = await orUnwritable(path, () => writeTrendWorkbook(book, path));
      const fileName = basename(path);
      return { fileName, path, ...written, download: deps.downloadAddress(fileName) };
    },
  };
}
