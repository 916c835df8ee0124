import type { ReactNode } from "react";
import { AboutScreen } from "../screens/about/AboutScreen.tsx";
import { BenchScreen } from "../screens/bench/BenchScreen.tsx";
import { CalibrateScreen } from "../screens/calibrate/CalibrateScreen.tsx";
import { CountScreen } from "../screens/count/CountScreen.tsx";
import { MeasureScreen } from "../screens/measure/MeasureScreen.tsx";
import { PracticeScreen } from "../screens/practice/PracticeScreen.tsx";
import { RecordsScreen } from "../screens/records/RecordsScreen.tsx";
import { RegistersScreen } from "../screens/registers/RegistersScreen.tsx";
import { SettingsScreen } from "../screens/settings/SettingsScreen.tsx";
import { TraceScreen } from "../screens/trace/TraceScreen.tsx";
import { TrendsScreen } from "../screens/trends/TrendsScreen.tsx";
import type { Location, ScreenName } from "../window/location.ts";

type Screens = { readonly [N in ScreenName]?: (location: Extract<Location, { screen: N }>) => ReactNode };

/** The screens there are; the rail shows those and no others. */
export const SCREEN_OF: Screens = {
  bench: () => <BenchScreen />,
  calibrate: ({ trainId, calibrationId, check }) => (
    <CalibrateScreen trainId={trainId} calibrationId={calibrationId} check={check === true} />
  ),
  measure: ({ sheetId, second, row }) => <MeasureScreen sheetId={sheetId} second={second} row={row} />,
  count: (location) => <CountScreen location={location} />,
  trends: (location) => <TrendsScreen location={location} />,
  registers: (location) => <RegistersScreen location={location} />,
  records: (location) => <RecordsScreen location={location} />,
  trace: (location) => <TraceScreen location={location} />,
  practice: (location) => <PracticeScreen location={location} />,
  settings: () => <SettingsScreen />,
  about: (location) => <AboutScreen location={location} />,
};

/** Draws the screen of a location. */
export function drawScreen(location: Location): ReactNode {
  const draw = SCREEN_OF[location.screen] as ((location: Location) => ReactNode) | undefined;
  return draw?.(location) ?? null;
}
