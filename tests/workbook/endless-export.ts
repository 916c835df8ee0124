/** Started by a test and killed by it: writes a workbook whose second walk over the rows never ends. */
import { writeWorkbook } from "#main/workbook/sheet-book/workbook.ts";
import { bundleOf } from "./example-bundle.ts";

const bundle = bundleOf({ rows: [{ label: "a", readings: { d: ["1", "20", "cal10"] } }] });
let walks = 0;

await writeWorkbook(
  {
    ...bundle,
    rows: function* () {
      walks += 1;
      for (let i = 0; i < (walks === 1 ? 1 : Number.POSITIVE_INFINITY); i++) yield* bundle.rows();
    },
  },
  "live",
  process.argv[2] ?? "",
);
