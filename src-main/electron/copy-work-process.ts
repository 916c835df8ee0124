import { orderFromWord } from "../ports/copy-work.ts";
import { doCopyWork } from "../store/bench-file/copy-work-here.ts";
import { giveWay } from "../store/bench-file/give-way.ts";

// Beside the service process, which goes on answering: carries out the order on its line, says what is wrong, and ends.
giveWay();
const order = orderFromWord(process.argv[2] ?? "");
process.parentPort.on("message", () => process.exit(0));
void doCopyWork(order).then(
  (faults) => process.parentPort.postMessage(faults),
  (error: unknown) => {
    console.error(error);
    process.exit(1);
  },
);
