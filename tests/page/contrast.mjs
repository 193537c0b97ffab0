// How far words and signs stand out from what is behind them. Limits: WCAG 2.2, 1.4.3 (text 4.5:1) and 1.4.11 (signs 3:1).
/** Runs in the page: everything that stands out too little, as sentences. */
export function faint({ disabledToo }) {
  const channel = (value) => {
    const share = value / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  };
  const parse = (text) => {
    const found = /^rgba?\(([^)]+)\)$/.exec(text);
    if (!found) return null;
    const [r, g, b, a = 1] = found[1].split(/[\s,/]+/).map(Number);
    return { r, g, b, a };
  };
  const over = (front, back) => ({ r: front.r * front.a + back.r * (1 - front.a), g: front.g * front.a + back.g * (1 - front.a), b: front.b * front.a + back.b * (1 - front.a), a: 1 });
  const light = ({ r, g, b }) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
  const contrast = (a, b) => (Math.max(light(a), light(b)) + 0.05) / (Math.min(light(a), light(b)) + 0.05);
  const behind = (element) => {
    const layers = [];
    for (let at = element; at; at = at.parentElement) {
      const color = parse(getComputedStyle(at).backgroundColor);
      if (color && color.a > 0) layers.push(color);
      if (color && color.a === 1) break;
    }
    return layers.reverse().reduce((back, front) => over(front, back), { r: 255, g: 255, b: 255, a: 1 });
  };
  const said = [];
  for (const element of document.body.querySelectorAll("*")) {
    const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim() !== "");
    const box = element.getBoundingClientRect();
    if (!own || box.width < 2 || box.height < 2 || element.closest("svg, .unseen, noscript, script, style")) continue;
    if (!disabledToo && element.closest(":disabled")) continue;
    const style = getComputedStyle(element);
    const color = parse(style.color);
    const back = behind(element);
    const got = contrast(over(color, back), back);
    if (got < 4.5) said.push(`"${element.textContent.trim().slice(0, 30)}" ${got.toFixed(2)}`);
  }
  for (const sign of document.querySelectorAll("[class^=mark-], [class^=film-], .on-restoration, .was, .landed, .waits")) {
    if (!(sign instanceof SVGElement)) continue;
    const style = getComputedStyle(sign);
    const back = behind(sign.ownerSVGElement.parentElement);
    const best = Math.max(...[style.fill, style.stroke].map(parse).filter((color) => color && color.a > 0).map((color) => contrast(over(color, back), back)), 1);
    if (best < 3) said.push(`${sign.getAttribute("class")} in ${sign.closest("button")?.textContent.slice(0, 20) ?? "the key"}: ${best.toFixed(2)}`);
  }
  return said;
}
