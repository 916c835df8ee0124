import { test } from "@playwright/test";
import { startShapedProgram } from "../electron-shaped/shaped-program.ts";
import {
  type LoopbackProgram,
  type LoopbackProgramOptions,
  startLoopbackProgram,
} from "./loopback-program.ts";

/** The project that runs the specs of the browser in the shape of Electron. */
const SHAPED = "electron-shaped";
export type ProgramUnderTest = LoopbackProgram;

/** Starts the program on the host that the project is about. */
export function startProgram(options: LoopbackProgramOptions = {}): Promise<ProgramUnderTest> {
  return test.info().project.name === SHAPED ? startShapedProgram(options) : startLoopbackProgram(options);
}
