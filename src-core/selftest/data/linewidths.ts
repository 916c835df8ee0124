/**
 * Widths of ten lines, µm, each measured four times with an optical imaging system: certified and read. NIST/SEMATECH
 * e-Handbook of Statistical Methods (2012), 2.3.6.7.3, CALIBRATIONLINE.DAT.
 */
export const LINEWIDTHS_CERTIFIED = `
6.19 9.17 1.99 7.77 4.0 10.77 4.78 2.99 6.98 9.98
6.19 9.17 1.99 7.77 4.0 10.77 4.78 2.99 6.98 9.98
6.19 9.17 1.99 7.77 4.0 10.77 4.78 2.99 6.98 9.98
6.19 9.17 1.99 7.77 4.0 10.77 4.78 2.99 6.98 9.98`;
export const LINEWIDTHS_READ = `
6.31 9.27 2.21 8.0 4.27 10.93 4.95 3.24 7.14 10.23
6.27 9.21 2.19 7.81 4.15 10.73 4.87 3.17 7.07 10.02
6.31 9.34 2.22 7.95 4.15 10.92 5.0 3.21 7.18 10.07
6.28 9.23 2.2 7.84 4.15 10.89 5.0 3.21 7.2 10.17`;

/** Three lines read on six days with the system so calibrated: certified widths, then a day per line; 2.3.7.1, LINEWID.DAT. */
export const CHECK_LINES = "0.76 3.29 8.89";
export const CHECK_DAYS = [
  "1.12 3.49 9.11",
  "0.99 3.53 8.89",
  "1.05 3.46 9.02",
  "0.76 3.75 9.30",
  "0.96 3.53 9.05",
  "1.03 3.52 9.02",
] as const;
