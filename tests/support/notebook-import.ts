import type { Sheet } from "#core/contract/records/sheet.ts";
import type { Scene } from "./bench-scenes.ts";
import type { TempBench } from "./temp-bench.ts";

/** Rows of an old notebook, invented: the second one with a width that somebody else had made µm of. */
const NOTEBOOK = "Label;Length left;Length right;Width µm\r\nTilia;40;60;\r\nBetula;41;62;25,3\r\n";

/** Opens a sheet with the rows of an old notebook. */
export async function importNotebook({ call, request }: TempBench, scene: Scene): Promise<Sheet> {
  const bytes = Buffer.from(NOTEBOOK);
  const { uploadId } = await call("uploads.begin", { fileName: "notebook.csv", bytes: bytes.length });
  await call("uploads.part", { uploadId, offset: 0, base64: bytes.toString("base64") });
  const { methodId, sheet } = scene;
  const { suggested } = await call("imports.read", { uploadId, worksheet: null, methodId });
  const { sample, note, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  return await call("imports.accept", {
    requestId: request(),
    choice: { uploadId, worksheet: null, methodId, ...suggested, convertedBy: "2.50 µm per division, 1998" },
    sheet: { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId },
    withoutRefused: false,
  });
}
