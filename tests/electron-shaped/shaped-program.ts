import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Page } from "@playwright/test";
import { ensureDemoBench } from "#main/demo-folder.ts";
import { buildOnce } from "../support/built-program.ts";
import type { LoopbackProgram, LoopbackProgramOptions } from "../support/loopback-program.ts";
import { type Booted, boot } from "./boot.ts";
import { attachPage } from "./window-page.ts";

/** The program in the shape of Electron: one window, drawn on the page that goes to its address. */
export interface ShapedProgram extends LoopbackProgram {
  readonly booted: Booted;
  /** Where the person saves what the program offers to save. */
  readonly saveFolder: string;
  /** The page becomes the program's window. @throws Error when another one is */
  attach(page: Page): Promise<void>;
}

const programs = new Map<string, ShapedProgram>();
let started = 0;

/** The program whose window has this address; null for one of another host. */
export function shapedAt(address: string): ShapedProgram | null {
  return URL.canParse(address) ? (programs.get(new URL(address).origin) ?? null) : null;
}

export async function startShapedProgram(options: LoopbackProgramOptions = {}): Promise<ShapedProgram> {
  const main = buildOnce();
  const folder = options.folder ?? mkdtempSync(join(tmpdir(), "linefall-test-"));
  const saveFolder = mkdtempSync(join(tmpdir(), "linefall-saved-"));
  started += 1;
  const origin = `https://bench${started}-${process.pid}.linefall.test`;
  if (options.demo === true) await ensureDemoBench(folder, () => undefined);
  let booted = await run();
  let window: Page | null = null;

  async function run(): Promise<Booted> {
    mkdirSync(folder, { recursive: true });
    const environment = options.environment ?? {};
    const one = boot({ main, line: ["--data", folder], environment });
    for (let look = await one.look(); look.windows[0]?.url === undefined || look.windows[0].url === ""; ) {
      if (look.errorBoxes.length > 0) throw new Error(look.errorBoxes.flat().join("\n"));
      await new Promise((resolve) => setTimeout(resolve, 25));
      look = await one.look();
    }
    await one.ask("answers", { saveFolder, buttons: [0] });
    return one;
  }
  async function gone(end: () => void): Promise<number | null> {
    if (booted.process.exitCode === null && booted.process.signalCode === null) end();
    return booted.ended;
  }
  /** Whatever is unsaved, the person closes all the same. */
  const quit = () => {
    void booted.ask("answers", { buttons: [1] }).catch(() => null);
    void booted.ask("quit", null).catch(() => null);
  };
  const program: ShapedProgram = {
    folder,
    saveFolder,
    origin,
    address: `${origin}/index.html`,
    get booted() {
      return booted;
    },
    get pid() {
      return booted.process.pid ?? -1;
    },
    freshAddress: () => program.address,
    output: () => booted.output(),
    end: () => gone(quit),
    async kill9() {
      await gone(() => booted.process.kill("SIGKILL"));
    },
    async restart() {
      await gone(quit);
      booted = await run();
      window = null;
    },
    async stop() {
      await gone(quit);
      programs.delete(origin);
      rmSync(saveFolder, { recursive: true, force: true });
      if (options.folder === undefined) rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
    },
    async attach(page) {
      if (window !== null && !window.isClosed()) throw new Error("Electron has one window on a bench");
      window = page;
      await attachPage(booted, page, origin, join(dirname(main), ".."));
    },
  };
  programs.set(origin, program);
  return program;
}
