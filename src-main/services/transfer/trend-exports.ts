import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import type { TrailHead } from "#core/contract/records/trail.ts";
import type { TrainTrend, TrendViewChoice } from "#core/contract/records/trend.ts";
import { sideBySidePicture } from "#core/drawing/side-by-side-picture.ts";
import { type Picture, svgDocument } from "#core/drawing/svg-text.ts";
import { trendPicture } from "#core/drawing/trend-picture.ts";
import { trainName } from "#core/optics/train-name.ts";
import { changedExcept, patternOfWords } from "#core/quantity/except-words.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { USUAL_NOTATION, withOwnNotation } from "#core/quantity/shown-text.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { localDate } from "../../ports/local-date.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailHeadOf } from "../../store/repositories/audit-trail.ts";
import { listMicrometers } from "../../store/repositories/micrometer-repository.ts";
import { findMicroscope, listMicroscopes } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import type { WrittenFile } from "../../workbook/sheet-book/workbook.ts";
import { pngSize } from "../../workbook/spreadsheet/png-size.ts";
import { writeFileWhole } from "../../workbook/spreadsheet/write-file.ts";
import { type TrendBook, writeTrendWorkbook } from "../../workbook/trend-book/trend-workbook.ts";
import { requireTrainById } from "../equipment/require-train.ts";
import { printedHead } from "../records/trail-signing.ts";
import { trendContext, trendHistory } from "../trends/trend-history.ts";
import { trendRecord } from "../trends/trend-record.ts";
import { namesOfPeople, SIDE_BY_SIDE_OF } from "../trends/trends.ts";
import type { Deps } from "../write-context/deps.ts";
import type { ExportRegister } from "./export-register.ts";

/** Characters that some file system does not take. */
const UNSAFE = /[^\p{L}\p{N} ._-]+/gu;

const stemOf = (title: string): string => title.replaceAll("×", "x").replaceAll(UNSAFE, " ").trim();

interface TrendExport {
  readonly train: string;
  readonly trend: TrainTrend;
  readonly programLine: string;
  readonly trailHead: TrailHead | null;
}

const pictureOfTrend = ({ trend, ...named }: TrendExport, view: TrendViewChoice): Picture =>
  trendPicture(trend, { ...named, view });

/** Words as this person reads numbers and dates; names and what people wrote stay as written. */
function shownBy(
  db: ReadableDb,
  written: readonly string[],
  notation: TrendViewChoice["notation"] = USUAL_NOTATION,
): (text: string) => string {
  const named = [...listPeople(db), ...listMicroscopes(db), ...listMicrometers(db)].map(({ name }) => name);
  const words = [...named, ...written].filter((text) => /\d/.test(text));
  const own = (text: string): string => withOwnNotation(text, notation);
  if (words.length === 0) return own;
  const pattern = patternOfWords(words);
  return (text) => changedExcept(text, pattern, own);
}

const svgOf = (db: ReadableDb, found: TrendExport, view: TrendViewChoice): string =>
  svgDocument(
    pictureOfTrend(found, view),
    shownBy(
      db,
      found.trend.events.map((event) => event.words),
      view.notation,
    ),
  );

function pngOf(base64: string | null): TrendBook["picture"] {
  if (base64 === null) return null;
  const png = Buffer.from(base64, "base64");
  const size = pngSize(png);
  if (size === null) throw new InputError("png", "is not a whole PNG picture");
  return { png, size };
}

/** An SVG document as a file; the SHA-256 is that of its bytes. */
async function writeSvg(svg: string, path: string): Promise<WrittenFile> {
  const content = Buffer.from(svg, "utf8");
  const bytes = await writeFileWhole(
    path,
    (stream) => new Promise<void>((resolve) => stream.end(content, () => resolve())),
    async (temporary) => {
      if (!content.equals(await readFile(temporary)))
        throw new Error("The picture was not written as meant.");
    },
  );
  return { bytes, dataSha256: createHash("sha256").update(content).digest("hex") };
}

/** The history of a train as a workbook or as a picture; looked after and stopped as every export. */
export function trendExportServices(deps: Deps, register: ExportRegister) {
  function nameOf(train: OpticalTrain): string {
    const microscope = findMicroscope(deps.db, train.microscopeId);
    return microscope ? trainName(train, microscope) : train.id;
  }

  function historyOf(train: OpticalTrain): TrendExport {
    const context = trendContext(deps.db, deps.clock.today());
    return {
      train: nameOf(train),
      trend: trendRecord(context, trendHistory(context, train), namesOfPeople(deps.db), localDate),
      programLine: `${deps.program.name} ${deps.program.version}`,
      trailHead: trailHeadOf(deps.db),
    };
  }

  /** The history is that of the writing: the place is asked for first, and a dialog may stay open for an hour. */
  function begin(
    call: "trends.workbook" | "trends.picture",
    trainId: string,
    extension: string,
    write: (found: TrendExport, path: string) => Promise<WrittenFile>,
  ) {
    const train = requireTrainById(deps.db, trainId, "trainId");
    const stem = stemOf(`Trend ${nameOf(train)}`);
    return register.begin({ call, stem, extension, rows: 0, write: (path) => write(historyOf(train), path) });
  }

  return handlers({
    "trends.workbook": ({ trainId, png }) => {
      const picture = pngOf(png);
      return begin("trends.workbook", trainId, ".xlsx", async (found, path) => {
        const asOf = deps.clock.now();
        const head = await printedHead(deps, deps.db);
        return writeTrendWorkbook({ ...found, ...head, picture, asOf }, path);
      });
    },
    "trends.drawing": ({ trainId, view }) => {
      const found = historyOf(requireTrainById(deps.db, trainId, "trainId"));
      const { width, height } = pictureOfTrend(found, view);
      return { svg: svgOf(deps.db, found, view), width, height };
    },
    "trends.seriesPicture": ({ view, id, notation }) => {
      const today = deps.clock.today();
      const together = () => SIDE_BY_SIDE_OF[view](trendContext(deps.db, today), id, namesOfPeople(deps.db));
      return register.begin({
        call: "trends.seriesPicture",
        stem: stemOf(`Trends ${together().title}`),
        extension: ".svg",
        rows: 0,
        write: (path) => {
          const picture = sideBySidePicture(together(), {
            view,
            asOf: today,
            programLine: `${deps.program.name} ${deps.program.version}`,
            trailHead: trailHeadOf(deps.db),
          });
          return writeSvg(svgDocument(picture, shownBy(deps.db, [], notation)), path);
        },
      });
    },
    "trends.picture": ({ trainId, view }) =>
      begin("trends.picture", trainId, ".svg", (found, path) => writeSvg(svgOf(deps.db, found, view), path)),
  });
}
