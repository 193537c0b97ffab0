// The overlaid taps of the comparison, to be zoomed into. Everything else of the view stays as the report draws it.
import uPlot from "uplot";
import { h } from "./dom";

export interface TapCurves {
  readonly ms: readonly number[];
  readonly before: readonly number[]; // median envelope, 0..1
  readonly after: readonly number[];
}

const color = (name: string): string => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

/** Range after zooming by a factor around its middle, kept inside the whole. */
export function zoomRange(range: readonly [number, number], factor: number, whole: readonly [number, number]): [number, number] {
  const width = Math.min(whole[1] - whole[0], Math.max(0.2, (range[1] - range[0]) * factor));
  const middle = (range[0] + range[1]) / 2;
  return shifted([middle - width / 2, middle + width / 2], 0, whole);
}

/** Range moved by a share of its width, kept inside the whole. */
export function shifted(range: readonly [number, number], share: number, whole: readonly [number, number]): [number, number] {
  const width = range[1] - range[0];
  const from = Math.min(whole[1] - width, Math.max(whole[0], range[0] + share * width));
  return [from, from + width];
}

/** Adds "Zoom" to the figure of overlaid taps. Buttons do what dragging does, for hands in gloves and keyboards. */
export function zoomable(root: ParentNode, curves: TapCurves): void {
  const figure = root.querySelector<SVGElement>(".plot-taps")?.closest("figure");
  if (!figure || curves.ms.length === 0) return;
  const open = h("button", { type: "button", class: "zoom-open", "data-key": "zoom" }, "Zoom in on the taps");
  figure.querySelector("figcaption")?.before(open);
  open.addEventListener("click", () => {
    open.remove();
    figure.querySelector("figcaption")?.before(zoomPlot(curves));
  });
}

function zoomPlot(curves: TapCurves): HTMLElement {
  const whole: [number, number] = [curves.ms[0] ?? 0, curves.ms.at(-1) ?? 1];
  let range: [number, number] = [Math.max(whole[0], -0.5), Math.min(whole[1], 3)];
  const holder = h("div", { class: "zoom-plot" });
  const words = h("p", { role: "status", class: "quiet" });
  const axis = { stroke: () => color("--quiet"), grid: { stroke: () => color("--faint") }, ticks: { show: false }, font: "14px system-ui, sans-serif" };
  const plot = new uPlot(
    {
      width: 800,
      height: 320,
      scales: { x: { time: false, min: range[0], max: range[1] }, y: { range: [0, 1.05] } },
      axes: [{ ...axis, label: "Time from first contact, ms", labelFont: "14px system-ui, sans-serif" }, { ...axis, size: 50 }],
      series: [
        { label: "ms", value: (_, v) => (v === null ? "" : v.toFixed(2)) },
        { label: "Before", stroke: () => color("--before"), width: 2.5, value: (_, v) => (v === null ? "" : v.toFixed(2)) },
        { label: "After", stroke: () => color("--after"), width: 2.5, dash: [8, 5], value: (_, v) => (v === null ? "" : v.toFixed(2)) },
      ],
      cursor: { drag: { x: true, y: false } },
      hooks: {
        setScale: [
          (self, key) => {
            const { min, max } = self.scales["x"] ?? {};
            if (key !== "x" || min === undefined || max === undefined || min === null || max === null) return;
            range = [min, max];
            words.textContent = `Showing ${min.toFixed(2)} to ${max.toFixed(2)} ms.`;
          },
        ],
      },
    },
    [[...curves.ms], [...curves.before], [...curves.after]],
    holder,
  );
  const show = (next: [number, number]) => (): void => plot.setScale("x", { min: next[0], max: next[1] });
  const button = (text: string, next: () => [number, number]): HTMLElement => h("button", { type: "button", onclick: () => show(next())() }, text);
  new ResizeObserver(() => plot.setSize({ width: Math.max(280, holder.clientWidth), height: 320 })).observe(holder);
  return h(
    "div",
    { class: "zoom" },
    holder,
    words,
    h(
      "div",
      { class: "actions" },
      button("Closer", () => zoomRange(range, 0.5, whole)),
      button("Wider", () => zoomRange(range, 2, whole)),
      button("Earlier", () => shifted(range, -0.5, whole)),
      button("Later", () => shifted(range, 0.5, whole)),
      button("All", () => whole),
    ),
  );
}
