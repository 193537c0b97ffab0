// The taps of a take as they land, drawn: each a bar at its level, on the outline that the baseline left, between the
// lines of too soft and too loud.
import { meterShare, type Landed } from "./levels";
import { s } from "./svg";

const width = 640;
const height = 190;
const floor = 168;
const top = 14;

const y = (dbfs: number): number => floor - meterShare(dbfs) * (floor - top);

export interface Falling {
  readonly wanted: number;
  readonly taps: readonly Landed[];
  readonly baseline: readonly number[]; // dBFS of the baseline's taps; empty in the baseline itself
  readonly now: number; // dBFS that is heard at this moment
  readonly noise: number; // dBFS of the room
}

export function drawFalling(view: Falling): SVGElement {
  const places = Math.max(view.wanted, view.taps.length, view.baseline.length, 1);
  const each = Math.min(80, (width - 90) / places);
  const left = (at: number): number => 8 + at * each;
  const good = { from: y(-1), to: y(Math.max(-60, view.noise + 18)) };
  const bar = (kind: string, at: number, dbfs: number): SVGElement => s("rect", { class: kind, x: left(at) + each * 0.14, y: y(dbfs), width: each * 0.72, height: Math.max(2, floor - y(dbfs)), rx: 5 });
  const meter = width - 46;
  return s(
    "svg",
    { class: "falling", viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": `${view.taps.length} of ${view.wanted} good taps` },
    s("rect", { class: "good-zone", x: 0, y: good.from, width, height: good.to - good.from }),
    s("text", { x: width - 4, y: good.from - 3, "text-anchor": "end" }, "too loud"),
    s("text", { x: width - 4, y: Math.min(floor - 4, good.to + 14), "text-anchor": "end" }, "too soft"),
    ...view.baseline.slice(0, places).map((dbfs, at) => bar("waits", at, dbfs)),
    ...Array.from({ length: view.wanted }, (_, at) => s("rect", { class: at < view.taps.length ? "slot heard" : "slot", x: left(at) + each * 0.14, y: floor + 5, width: each * 0.72, height: 9, rx: 4 })),
    ...view.taps.map((tap, at) => bar(`landed landed-${tap.zone}`, at, tap.peak)),
    s("rect", { class: "meter-now", x: meter, y: y(view.now), width: 18, height: Math.max(1, floor - y(view.now)), rx: 4 }),
    s("line", { class: "floor", x1: 0, x2: width, y1: floor, y2: floor }),
  );
}
