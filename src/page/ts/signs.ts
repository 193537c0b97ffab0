// The signs of film and marks, the same as in the report and in print: src/report/chart_signs.cpp draws them there.
import type { Film, Stage, Weight, Where } from "./model";
import { line, s, type Point } from "./svg";

const sizes: Record<Weight, number> = { light: 2.2, even: 3.4, heavy: 5.2 };
const wider = 1.2; // corners reach further than a disc of the same look

export interface SignOfMark {
  readonly stage: Stage;
  readonly weight: Weight;
  readonly where: Where;
}

function corners(stage: Stage, [x, y]: Point, wide: number): readonly Point[] {
  if (stage === "working") return [[x, y - wide], [x + wide, y + wide], [x - wide, y + wide]];
  if (stage === "non-working") return [[x, y + wide], [x + wide, y - wide], [x - wide, y - wide]];
  return [[x, y - wide], [x + wide, y], [x, y + wide], [x - wide, y]];
}

/** Centric a filled disc; working a triangle upward, non-working downward, protrusive a diamond, all hollow. Heavier is larger; on the restoration: a ring around it. */
export function markSign(mark: SignOfMark, at: Point, zoom = 1): SVGElement {
  const size = sizes[mark.weight] * zoom;
  const wide = size + wider * zoom;
  return s(
    "g",
    {},
    mark.stage === "centric" ? s("circle", { class: "mark-centric", cx: at[0], cy: at[1], r: size }) : s("path", { class: "mark-eccentric", d: line(corners(mark.stage, at, wide), true) }),
    mark.where === "restoration" && s("circle", { class: "on-restoration", cx: at[0], cy: at[1], r: wide + 2.2 * zoom }),
  );
}

/** What was there before the work: the same shape, empty and broken, just outside of what is there now. */
export function markBefore(mark: SignOfMark, at: Point, zoom = 1): SVGElement {
  const wide = (sizes[mark.weight] + wider) * zoom + 2 * zoom;
  return mark.stage === "centric" ? s("circle", { class: "was", cx: at[0], cy: at[1], r: wide - wider * zoom }) : s("path", { class: "was", d: line(corners(mark.stage, at, wide), true) });
}

/** Hold: a thick bar from tooth to tooth. Slide: a thin broken line. Open: two stubs that do not meet. Untestable: a cross, since nothing could be tested. */
export function filmSign(film: Film, from: Point, to: Point): SVGElement {
  const part = (share: number): Point => [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
  const stroke = (name: string, a: Point, b: Point): SVGElement => s("line", { class: name, x1: a[0], y1: a[1], x2: b[0], y2: b[1] });
  if (film === "hold") return stroke("film-hold", from, to);
  if (film === "slide") return stroke("film-slide", from, to);
  if (film === "open") return s("g", {}, stroke("film-open", from, part(0.22)), stroke("film-open", part(0.78), to));
  const [x, y] = part(0.5);
  return s("g", {}, stroke("film-none", [x - 4, y - 4], [x + 4, y + 4]), stroke("film-none", [x - 4, y + 4], [x + 4, y - 4]));
}

/** The film result of the baseline: a frame of its kind behind the sign of now. */
export function filmBefore(film: Film, from: Point, to: Point): SVGElement {
  const [x, top, bottom] = [from[0], from[1], to[1]];
  const box = (y1: number, y2: number): SVGElement => s("rect", { class: "was", x: x - 7, y: y1, width: 14, height: y2 - y1, rx: 3 });
  if (film === "hold") return box(top, bottom);
  if (film === "slide") return s("g", {}, ...[0, 1, 2].map((i) => box(top + (i * (bottom - top)) / 3 + 1, top + ((i + 1) * (bottom - top)) / 3 - 1)));
  if (film === "open") return s("g", {}, box(top, top + 0.3 * (bottom - top)), box(bottom - 0.3 * (bottom - top), bottom));
  return s("g", {});
}
