import { expect, test } from "vitest";
import { defocusWaves, edgeSpread, opticalTransfer } from "#core/practice/view/diffraction.ts";

/** Bessel functions by Bessel's integral, (1/π)∫ cos(nθ − v sin θ) dθ: M. Abramowitz, I. A. Stegun: Handbook of Mathematical Functions (1964), 9.1.21. */
function bessel(order: number, v: number): number {
  const steps = 400;
  let sum = 0;
  for (let index = 0; index < steps; index += 1) {
    const angle = ((index + 0.5) * Math.PI) / steps;
    sum += Math.cos(order * angle - v * Math.sin(angle));
  }
  return sum / steps;
}

/**
 * Light beyond a straight edge, gathered from the Airy pattern itself: of the ring at radius r the part arccos(t/r)/π lies
 * beyond a line at distance t; the light within r is 1 − J₀² − J₁² (Rayleigh 1881; M. Born, E. Wolf: Principles of Optics, 8.5.2: from memory).
 */
function beyondEdge(t: number): number {
  const within = (r: number): number => {
    const v = 2 * Math.PI * r;
    return 1 - bessel(0, v) ** 2 - bessel(1, v) ** 2;
  };
  let sum = 0;
  let before = within(t);
  const step = 0.01;
  for (let r = t; r < 40; r += step) {
    const after = within(r + step);
    sum += ((after - before) * Math.acos(t / (r + step / 2))) / Math.PI;
    before = after;
  }
  // The Airy pattern's last light, 1/(π² r) beyond r, lies nearly half beyond the line.
  return sum + (0.5 * 1) / (Math.PI ** 2 * 40);
}

test("an edge in focus is the one that the Airy pattern gives", () => {
  const edge = edgeSpread(0);
  for (const t of [0.1, 0.25, 0.5, 0.8, 1.5, 3]) expect(edge.at(-t)).toBeCloseTo(beyondEdge(t), 3);
  expect(edge.at(0)).toBeCloseTo(0.5, 12);
});

test("what one side of an edge gains the other lacks, and far out it follows 1/(π³t)", () => {
  for (const defect of [0, 0.4, 2]) {
    const edge = edgeSpread(defect);
    for (const t of [0.3, 1, 6, 40]) expect(edge.at(t) + edge.at(-t)).toBeCloseTo(1, 12);
    const end = Math.ceil(8 + 3 * defect);
    expect(1 - edge.at(end - 0.01)).toBeCloseTo(1 / (Math.PI ** 3 * end), 3);
  }
});

test("the integral of an edge is the area under it", () => {
  const edge = edgeSpread(0.7);
  for (const [from, to] of [
    [-3, -1],
    [-0.5, 0.8],
    [4, 15],
  ] as const) {
    const steps = 20_000;
    let area = 0;
    for (let index = 0; index < steps; index += 1)
      area += (edge.at(from + ((index + 0.5) * (to - from)) / steps) * (to - from)) / steps;
    expect(edge.integral(to) - edge.integral(from)).toBeCloseTo(area, 5);
  }
});

test("transfer in focus by both formulas; out of focus it falls sooner", () => {
  for (const s of [0.05, 0.3, 0.7, 0.95]) {
    expect(opticalTransfer(s, 1e-9)).toBeCloseTo(opticalTransfer(s, 0), 4);
    expect(opticalTransfer(s, 0.5)).toBeLessThan(opticalTransfer(s, 0));
  }
  expect(opticalTransfer(1, 0)).toBe(0);
});

test("a quarter wave is the depth of focus by Rayleigh's rule, λ/(2·NA²) to either side for low apertures", () => {
  const na = 0.1;
  expect(defocusWaves(0.55 / (2 * na * na), na, 0.55)).toBeCloseTo(0.25, 2);
});
