// One tooth as it stands on the screen: its outline and grooves, inside a box of a drawing.
import { outlineOf } from "./outline";
import { s } from "./svg";

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function toothIcon(iso: number, box: Box): SVGElement {
  const { edge, grooves } = outlineOf(iso, box.width, box.height);
  return s("g", { transform: `translate(${box.x} ${box.y})` }, s("path", { class: "tooth-edge", d: edge }), ...grooves.map((d) => s("path", { class: "groove", d })));
}
