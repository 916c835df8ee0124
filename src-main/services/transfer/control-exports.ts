import { handlers } from "../../dispatch/handlers.ts";
import { writeControlWorkbook } from "../../workbook/control-book/control-workbook.ts";
import { CONTROL_TITLES } from "../../workbook/words/headings.ts";
import { controlsOf } from "../counts/controls.ts";
import { printedHead } from "../records/trail-signing.ts";
import type { Deps } from "../write-context/deps.ts";
import type { ExportRegister } from "./export-register.ts";

/** Characters that some file system does not take. */
const UNSAFE = /[^\p{L}\p{N} ._-]+/gu;

/** A series of control samples as a workbook; looked after and stopped as every export. */
export function controlExportServices(deps: Deps, register: ExportRegister) {
  return handlers({
    "counts.controlsWorkbook": ({ paper, ...of }) => {
      const { name } = controlsOf(deps.db, of);
      return register.begin({
        call: "counts.controlsWorkbook",
        stem: `${CONTROL_TITLES[of.kind]} ${name}`.replaceAll(UNSAFE, " ").trim(),
        extension: ".xlsx",
        rows: 0,
        write: async (path) => {
          const { program, clock, db } = deps;
          const programLine = `${program.name} ${program.version}`;
          const head = await printedHead(deps, db);
          const series = controlsOf(db, of);
          return writeControlWorkbook({ series, paper, programLine, asOf: clock.now(), ...head }, path);
        },
      });
    },
  });
}
