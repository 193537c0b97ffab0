// The outline of a tooth seen from its biting side: plain, of one line, with the grooves that tell its kind.
// Common shapes, no source: an upper molar is a slanted square, a lower one a long rectangle, premolars are ovals, front
// teeth are flat with an edge.
import { line, smooth, type Point } from "./svg";

/** Where something lies on the biting surface: 0 at the midline end and at the cheek, 1 at the back end and at the tongue. */
export interface OnTooth {
  readonly distal: number;
  readonly inward: number;
}

export type Kind = "upper molar" | "lower molar" | "premolar" | "canine" | "incisor";

export function kindOf(iso: number): Kind {
  const place = iso % 10;
  if (place >= 6) return iso < 30 ? "upper molar" : "lower molar";
  if (place >= 4) return "premolar";
  return place === 3 ? "canine" : "incisor";
}

const outlines: Record<Kind, readonly Point[]> = {
  "upper molar": [[0.1, 0.2], [0.27, 0.05], [0.5, 0.08], [0.74, 0.05], [0.9, 0.22], [0.93, 0.5], [0.88, 0.8], [0.72, 0.95], [0.48, 0.93], [0.24, 0.96], [0.08, 0.8], [0.06, 0.5]],
  "lower molar": [[0.06, 0.24], [0.22, 0.07], [0.46, 0.1], [0.72, 0.07], [0.92, 0.2], [0.97, 0.44], [0.93, 0.74], [0.76, 0.93], [0.5, 0.9], [0.24, 0.94], [0.07, 0.78], [0.03, 0.5]],
  premolar: [[0.12, 0.3], [0.28, 0.09], [0.5, 0.03], [0.72, 0.09], [0.88, 0.3], [0.9, 0.55], [0.8, 0.84], [0.5, 0.97], [0.2, 0.84], [0.1, 0.55]],
  canine: [[0.1, 0.42], [0.26, 0.2], [0.5, 0.1], [0.74, 0.2], [0.9, 0.42], [0.84, 0.68], [0.66, 0.88], [0.5, 0.93], [0.34, 0.88], [0.16, 0.68]],
  incisor: [[0.04, 0.26], [0.25, 0.16], [0.5, 0.13], [0.75, 0.16], [0.96, 0.26], [0.9, 0.5], [0.74, 0.76], [0.5, 0.86], [0.26, 0.76], [0.1, 0.5]],
};

const grooves: Record<Kind, readonly (readonly Point[])[]> = {
  "upper molar": [[[0.18, 0.52], [0.34, 0.46], [0.5, 0.5], [0.64, 0.6], [0.62, 0.9]], [[0.5, 0.5], [0.49, 0.12]]],
  "lower molar": [[[0.14, 0.5], [0.32, 0.54], [0.5, 0.5], [0.68, 0.54], [0.86, 0.5]], [[0.4, 0.53], [0.42, 0.14]], [[0.7, 0.54], [0.76, 0.14]], [[0.5, 0.5], [0.5, 0.86]]],
  premolar: [[[0.2, 0.52], [0.38, 0.57], [0.62, 0.57], [0.8, 0.52]]],
  canine: [[[0.18, 0.4], [0.5, 0.34], [0.82, 0.4]]],
  incisor: [[[0.08, 0.28], [0.5, 0.25], [0.92, 0.28]]],
};

/** Seen as the teeth stand on the screen: the midline in the middle, upper teeth with the cheek up, lower ones with it down. */
export function onScreen(iso: number, at: OnTooth): Point {
  const quadrant = Math.floor(iso / 10);
  const rightSide = quadrant === 1 || quadrant === 4;
  return [rightSide ? 1 - at.distal : at.distal, quadrant <= 2 ? at.inward : 1 - at.inward];
}

/** How wide a tooth is drawn beside the others, a molar being 1. */
export const widthOf = (iso: number): number => ({ "upper molar": 1, "lower molar": 1, premolar: 0.78, canine: 0.74, incisor: 0.68 })[kindOf(iso)];

export interface Outline {
  readonly edge: string; // paths in a box of `width` by `height`
  readonly grooves: readonly string[];
}

export function outlineOf(iso: number, width: number, height: number): Outline {
  const place = ([distal, inward]: Point): Point => {
    const [x, y] = onScreen(iso, { distal, inward });
    return [x * width, y * height];
  };
  const kind = kindOf(iso);
  return { edge: smooth(outlines[kind].map(place)), grooves: grooves[kind].map((groove) => line(groove.map(place))) };
}
