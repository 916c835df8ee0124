import { NO_SOURCE } from "../vocabulary/literature.ts";
import type { ClassTable } from "./class-table.ts";

/** Pollen size by the longest axis. Inner limits are printed for both neighbours. */
export const POLLEN_SIZE_CLASSES: ClassTable = {
  id: "erdtman-size",
  name: "Pollen size, six classes",
  quantity: "longest axis, µm",
  source: "G. Erdtman: Handbook of Palynology (1969), as articles on pollen size give it",
  standing: "from memory",
  classes: [
    { name: "very small (perminuta)", from: "0", to: "10", fromClosed: false, toClosed: false },
    { name: "small (minuta)", from: "10", to: "25", fromClosed: true, toClosed: true },
    { name: "medium (media)", from: "25", to: "50", fromClosed: true, toClosed: true },
    { name: "large (magna)", from: "50", to: "100", fromClosed: true, toClosed: true },
    { name: "very large (permagna)", from: "100", to: "200", fromClosed: true, toClosed: true },
    { name: "gigantic (gigantea)", from: "200", to: null, fromClosed: false, toClosed: false },
  ],
};

/** The other division in use; the two disagree below 25 µm and above 100 µm. */
export const POLLEN_SIZE_CLASSES_FIVE: ClassTable = {
  id: "pollen-size-five",
  name: "Pollen size, five classes",
  quantity: "longest axis, µm",
  source: `${NO_SOURCE}: limits 15, 25, 50, 100 µm`,
  standing: "common practice",
  classes: [
    { name: "very small", from: "0", to: "15", fromClosed: false, toClosed: false },
    { name: "small", from: "15", to: "25", fromClosed: true, toClosed: true },
    { name: "medium", from: "25", to: "50", fromClosed: true, toClosed: true },
    { name: "large", from: "50", to: "100", fromClosed: true, toClosed: true },
    { name: "very large", from: "100", to: null, fromClosed: false, toClosed: false },
  ],
};
