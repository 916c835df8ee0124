import { dirname } from "node:path";
import { assemble } from "#main/assemble.ts";
import { systemClock } from "#main/ports/clock.ts";
import { benchPaths } from "#main/ports/data-folder.ts";
import { randomIds } from "#main/ports/ids.ts";

// Writes exports of one sheet, one after the other, to a place that a person chose, until it is killed.
const [folder = "", sheetId = "", place = "", what = ""] = process.argv.slice(2);
const program = await assemble({
  paths: benchPaths(folder),
  clock: systemClock,
  ids: randomIds,
  host: "electron",
  programVersion: "0.0.0-test",
  chooseExportPath: async () => place,
});
console.log(`writing to ${dirname(place)}`);
for (;;) {
  if (what === "hand-over") {
    await program.dispatch("backups.handOver", {});
    continue;
  }
  const begun = await program.dispatch("exports.begin", { sheetIds: [sheetId], format: what, paper: "A4" });
  if (!begun.ok) throw new Error(JSON.stringify(begun.error));
  const { exportId } = begun.value as { exportId: string };
  for (let state = "writing"; state === "writing"; ) {
    await new Promise((resolve) => setTimeout(resolve, 1));
    const reply = await program.dispatch("exports.status", { exportId });
    state = reply.ok ? (reply.value as { state: string }).state : "lost";
  }
}
