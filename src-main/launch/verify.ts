import { verifyCommand } from "./verify-command.ts";

/* `npm run verify -- FILE`: recomputes every result of a bench file and every hash, and names each difference. */
process.exitCode = await verifyCommand(process.argv.slice(2), (text) => process.stdout.write(text));
