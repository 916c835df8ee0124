import { classAdvice, classReport } from "#core/practice/class-report.ts";
import { classTables } from "#core/practice/class-tables.ts";
import { PRACTICE_CAUTION } from "#core/practice/practice-caution.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { slideReadingsOf } from "../../store/repositories/practice-class-repository.ts";
import { listAttempts } from "../../store/repositories/practice-repository.ts";
import { type ClassBook, writeClassWorkbook } from "../../workbook/class-book/class-workbook.ts";
import { requireClass } from "../practice/classes.ts";
import { printedHead } from "../records/trail-signing.ts";
import type { Deps } from "../write-context/deps.ts";
import type { ExportRegister } from "./export-register.ts";

/** Characters that some file system does not take. */
const UNSAFE = /[^\p{L}\p{N} ._-]+/gu;

/** The results of a class of practice as a workbook; looked after and stopped as every export. */
export function classExportServices(deps: Deps, register: ExportRegister) {
  async function bookOf(classId: string): Promise<ClassBook> {
    const { db, program, clock } = deps;
    const of = requireClass(db, classId);
    const names = new Map(listPeople(db).map(({ id, name }) => [id, name]));
    const nameOf = (id: string): string => names.get(id) ?? id;
    const report = classReport(of, listAttempts(db, null), slideReadingsOf(db, classId));
    const head = printedHead(deps, db);
    return {
      of,
      tables: classTables(report, nameOf),
      advice: classAdvice(report, nameOf),
      caution: PRACTICE_CAUTION,
      programLine: `${program.name} ${program.version}`,
      asOf: clock.now(),
      ...(await head),
    };
  }
  return handlers({
    "practice.classWorkbook": ({ classId }) =>
      register.begin({
        call: "practice.classWorkbook",
        stem: `Practice ${requireClass(deps.db, classId).name}`.replaceAll(UNSAFE, " ").trim(),
        extension: ".xlsx",
        rows: 0,
        write: async (path) => writeClassWorkbook(await bookOf(classId), path),
      }),
  });
}
