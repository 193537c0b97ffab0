// Draws. Elements of SVG are made here and nowhere else, so that every drawing can be built, and tested, without a screen.

type Value = string | number | boolean | null | undefined;
type Child = Node | string | null | undefined | false;

/** An SVG element with attributes (null, undefined and false: none; numbers to a hundredth). */
export function s(tag: string, attributes: Record<string, Value> = {}, ...children: readonly Child[]): SVGElement {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== null && value !== undefined && value !== false) element.setAttribute(name, typeof value === "number" ? rounded(value) : String(value));
  }
  element.append(...children.filter((child): child is Node | string => child !== null && child !== undefined && child !== false));
  return element;
}

/** A number as drawings need it: to a hundredth, without trailing zeros and without a minus before nothing. */
export const rounded = (value: number): string => {
  const text = String(Math.round(value * 100) / 100);
  return text === "-0" ? "0" : text;
};

export type Point = readonly [number, number];

/** The path through these points; `closed` leads back to the first. Empty without points. */
export const line = (points: readonly Point[], closed = false): string =>
  points.map(([x, y], at) => `${at === 0 ? "M" : "L"}${rounded(x)} ${rounded(y)}`).join("") + (closed && points.length > 0 ? "Z" : "");

/** A smooth closed outline through these points (Catmull-Rom, as cubic curves). */
export function smooth(points: readonly Point[]): string {
  const at = (i: number): Point => points[(i + points.length) % points.length] ?? [0, 0];
  const curves = points.map((_, i) => {
    const [a, b, c, d] = [at(i - 1), at(i), at(i + 1), at(i + 2)];
    const first: Point = [b[0] + (c[0] - a[0]) / 6, b[1] + (c[1] - a[1]) / 6];
    const second: Point = [c[0] - (d[0] - b[0]) / 6, c[1] - (d[1] - b[1]) / 6];
    return `C${[first, second, c].map(([x, y]) => `${rounded(x)} ${rounded(y)}`).join(" ")}`;
  });
  const [x, y] = at(0);
  return points.length === 0 ? "" : `M${rounded(x)} ${rounded(y)}${curves.join("")}Z`;
}

/** From a range of values to a range of the drawing. */
export const scale =
  (from: readonly [number, number], to: readonly [number, number]) =>
  (value: number): number =>
    to[0] + ((value - from[0]) / (from[1] - from[0])) * (to[1] - to[0]);
