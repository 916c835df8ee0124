/*
 * `npm run pictures [-- FOLDER [NAME …]]`: takes the README's pictures from the invented demo bench, in the real program on the
 * loopback host. With a folder it takes every place of the window in both themes instead, to be looked at: the README’s in
 * both window sizes, the others in the smaller one; with names only the places whose name holds one of them.
 * `readme` in place of the folder takes the README's own, of those names.
 */
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "@playwright/test";
import { callFrom } from "./browser/bench-window.ts";
import { type Ask, everyPlace } from "./picture-places.ts";
import { PRACTICE_PICTURES } from "./practice-pictures.ts";
import { type LoopbackProgram, startLoopbackProgram } from "./support/loopback-program.ts";
import { launchTestBrowser } from "./support/test-browser.ts";

const SIZES = [
  { width: 1280, height: 800 },
  { width: 1920, height: 1080 },
] as const;

/** Height of the window in which a part of a page is taken. */
const TALL = 1040;

interface Picture {
  readonly name: string;
  /** Where the window opens, as `src-renderer/app/location.ts` keeps it. */
  readonly location: (ask: Ask) => Promise<object>;
  /** The theme of the README's picture; null: not in the README. */
  readonly readme: "light" | "dim" | null;
  /** Keys pressed before the picture is taken. */
  readonly act?: (page: Page) => Promise<void>;
  /** The part of the page that the README shows; the whole window where it is left out. */
  readonly of?: string;
}

const start = (location: object) => async () => location;

async function firstResult(ask: Ask): Promise<{ readonly rowId: string; readonly dimension: string }> {
  const [sheet] = await ask("sheets.list", {});
  if (!sheet) throw new Error("The demo bench has no sheet.");
  const { rows } = await ask("rows.page", { sheetId: sheet.id, from: 1, count: 1 });
  const dimension = rows[0]?.measurements[0]?.dimension;
  if (!rows[0] || dimension === undefined) throw new Error("The demo sheet has no reading.");
  return { rowId: rows[0].id, dimension };
}

const PICTURES: readonly Picture[] = [
  { name: "bench", location: start({ screen: "bench" }), readme: "light" },
  {
    name: "calibrate",
    readme: "light",
    location: async (ask) => {
      const overview = await ask("bench.overview", {});
      const trains = overview.microscopes.flatMap((one) => one.trains);
      const free = trains.find((one) => one.state === "not calibrated") ?? trains[0];
      const micrometers = await ask("micrometers.list", {});
      const micrometer = micrometers.find((one) => one.scaleLengthUm === "1000") ?? micrometers[0];
      const certificate = micrometer?.certificates.at(-1);
      if (!free || !micrometer || !certificate) throw new Error("The demo bench has nothing to calibrate.");
      const draft = await ask("calibrations.begin", {
        requestId: crypto.randomUUID(),
        calibration: {
          trainId: free.train.id,
          stageMicrometerId: micrometer.id,
          certificateId: certificate.id,
        },
      });
      await ask("calibrations.keepDraft", {
        calibrationId: draft.id,
        settings: [
          { reticleLeft: "0.0", reticleRight: "80.6", lineLeft: "0", lineRight: "8" },
          { reticleLeft: "10.0", reticleRight: "90.5", lineLeft: "2", lineRight: "10" },
          { reticleLeft: "4.9", reticleRight: "85.5", lineLeft: "1", lineRight: "9" },
        ],
        conditions: draft.conditions,
        estimator: draft.estimator,
        coverage: draft.coverage,
        remark: "",
      });
      return { screen: "calibrate", trainId: free.train.id, calibrationId: draft.id };
    },
  },
  {
    name: "measure",
    readme: "dim",
    location: async (ask) => {
      const sheets = await ask("sheets.list", {});
      const overview = await ask("bench.overview", {});
      const ready = overview.microscopes
        .flatMap((one) => one.trains)
        .filter((one) => one.state === "ready")
        .map((one) => `${one.train.eyepieceId}/${one.train.objectiveId}`);
      const sheet = sheets.find((one) => ready.includes(`${one.eyepieceId}/${one.objectiveId}`)) ?? sheets[0];
      return { screen: "measure", sheetId: sheet?.id ?? null };
    },
    act: async (page) => {
      // The train is confirmed, the label as above, one object read: what the grid has to say of it stands below.
      for (const key of ["Enter", "*", ..."31.5", "Enter", ..."40.4", "Enter"])
        await page.keyboard.press(key);
    },
  },
  { name: "sheets", location: start({ screen: "measure", sheetId: null }), readme: null },
  {
    name: "registers",
    location: start({ screen: "registers", register: "microscopes", recordId: null, form: null }),
    readme: null,
  },
  { name: "records", location: start({ screen: "records", tab: "sheets", recordId: null }), readme: null },
  {
    name: "count",
    readme: "dim",
    location: async (ask) => {
      const counts = await ask("counts.list", {});
      return { screen: "count", part: "counts", recordId: counts[0]?.id ?? null };
    },
  },
  {
    name: "trends",
    readme: "light",
    location: async (ask) => {
      const overview = await ask("bench.overview", {});
      const trains = overview.microscopes.flatMap((one) => one.trains);
      const histories = await Promise.all(
        trains.map(async ({ train }) => ({
          id: train.id,
          length: (await ask("calibrations.list", { trainId: train.id })).length,
        })),
      );
      const longest = histories.sort((a, b) => b.length - a.length)[0];
      return { screen: "trends", part: "train", subjectId: longest?.id ?? null };
    },
  },
  {
    name: "trace",
    readme: "light",
    location: async (ask) => ({ screen: "trace", result: await firstResult(ask), subject: null }),
  },
  {
    name: "by-hand",
    readme: null,
    location: async (ask) => ({
      screen: "trace",
      result: { ...(await firstResult(ask)), byHand: true },
      subject: null,
    }),
  },
  { name: "forward", location: start({ screen: "trace", result: null, subject: null }), readme: null },
  {
    name: "practice",
    readme: "light",
    location: start({ screen: "practice", part: "free", attemptId: null }),
    act: async (page) => {
      // Straight, in focus, with the truth beside it.
      for (let turn = 0; turn < 20; turn += 1) await page.keyboard.press("End");
      for (let step = 0; step < 7; step += 1) await page.keyboard.press("PageDown");
      await page.keyboard.press("5");
      await page.waitForTimeout(1500);
    },
  },
  {
    name: "practice-outcome",
    readme: null,
    location: async (ask) => {
      const [attempt] = await ask("practice.list", { personId: null });
      return { screen: "practice", part: "exercises", attemptId: attempt?.id ?? null };
    },
  },
  ...PRACTICE_PICTURES,
  { name: "about", location: start({ screen: "about", part: "program" }), readme: null },
];

interface Shot {
  readonly theme: "light" | "dim";
  readonly size: (typeof SIZES)[number];
  readonly file: string;
  /** A selector; left out: the whole window. */
  readonly part?: string | undefined;
}

async function open(browser: Browser, program: LoopbackProgram, shot: Shot): Promise<Page> {
  const context = await browser.newContext({ viewport: shot.size, colorScheme: "no-preference" });
  const page = await context.newPage();
  await page.goto(program.freshAddress());
  await page.locator("main").waitFor();
  await page.evaluate((theme) => localStorage.setItem("linefall.theme", theme), shot.theme);
  await page.evaluate((theme) => {
    // biome-ignore lint/suspicious/noDocumentCookie: the loopback window remembers its theme by this cookie
    document.cookie = `linefall.theme=${theme}; path=/`;
  }, shot.theme);
  return page;
}

async function take(browser: Browser, program: LoopbackProgram, picture: Picture, shot: Shot): Promise<void> {
  const page = await open(browser, program, shot);
  // A part that is taller than the window would be cut off where the window ends.
  if (shot.part) await page.setViewportSize({ ...shot.size, height: TALL });
  const location = await picture.location((name, input) => callFrom(page, name, input));
  await page.evaluate(
    (kept) => sessionStorage.setItem("linefall.location", kept),
    JSON.stringify({ location, back: [] }),
  );
  await page.reload();
  await page.locator("main h1").first().waitFor();
  await page.waitForTimeout(700);
  await picture.act?.(page);
  await page.waitForTimeout(700);
  const part = shot.part ? page.locator(shot.part).first() : page;
  await part.screenshot({ path: shot.file });
  console.log(shot.file);
  await page.context().close();
}

function shotsOf(picture: Picture, folder: string, sizes: readonly (typeof SIZES)[number][]): Shot[] {
  return (["light", "dim"] as const).flatMap((theme) =>
    sizes.map((size) => ({
      theme,
      size,
      file: join(folder, `${picture.name}-${theme}-${size.width}.png`),
    })),
  );
}

/** What is open in the program, asked from a window of its own. */
async function placesOf(browser: Browser, program: LoopbackProgram): Promise<Picture[]> {
  const page = await open(browser, program, { theme: "light", size: SIZES[0], file: "" });
  const places = await everyPlace((name, input) => callFrom(page, name, input));
  await page.context().close();
  return places.map(({ name, location }) => ({ name, location: start(location), readme: null }));
}

const [first, ...named] = process.argv.slice(2);
const asked = first === "readme" ? undefined : first;
const isWanted = ({ name }: Picture): boolean =>
  named.length === 0 || named.some((part) => name.includes(part));
const folder = asked ?? fileURLToPath(new URL("../resources/pictures", import.meta.url));
mkdirSync(folder, { recursive: true });
const program = await startLoopbackProgram({ demo: true });
const browser = await launchTestBrowser();
try {
  for (const picture of PICTURES.filter(isWanted)) {
    const { name, readme, of } = picture;
    const shots =
      asked !== undefined
        ? shotsOf(picture, folder, SIZES)
        : readme !== null
          ? [{ theme: readme, size: SIZES[0], file: join(folder, `${name}-${readme}.png`), part: of }]
          : [];
    for (const shot of shots) await take(browser, program, picture, shot);
  }
  if (asked !== undefined) {
    for (const picture of (await placesOf(browser, program)).filter(isWanted)) {
      for (const shot of shotsOf(picture, folder, [SIZES[0]])) await take(browser, program, picture, shot);
    }
  }
} finally {
  await browser.close();
  await program.stop();
}
