import { orderFromWord } from "../ports/copy-work.ts";
import { doCopyWork } from "../store/bench-file/copy-work-here.ts";
import { giveWay } from "../store/bench-file/give-way.ts";

// Beside the host, which goes on answering: carries out the order on its line, says what is wrong, and ends.
giveWay();
process.once("disconnect", () => process.exit());
const order = orderFromWord(process.argv[2] ?? "");
process.send?.(await doCopyWork(order), () => process.disconnect());
