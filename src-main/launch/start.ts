import { runCommand } from "../loopback/command-line.ts";
import { launch } from "./launch.ts";

// `npm start`: opens the program that `npm run build` has built.
process.exitCode = await runCommand(process.argv.slice(2), launch);
