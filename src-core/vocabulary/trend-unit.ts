/** What the vertical axis shows: µm per division, or per cent of the first factor of the running baseline. */
export const TREND_UNITS = ["factor", "percent"] as const;
export type TrendUnit = (typeof TREND_UNITS)[number];
