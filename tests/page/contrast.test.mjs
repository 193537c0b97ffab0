// Contrast of every word and every sign, in both themes, before and after signing. The accessibility checker leaves out
// what is disabled; a signed chart is, and is read all the same. Limits: WCAG 2.2, 1.4.3 (text 4.5:1) and 1.4.11 (signs 3:1).
import assert from "node:assert/strict";
import { test } from "node:test";
import { Stage, key } from "./harness.mjs";

/** Runs in the page: everything that stands out too little, as sentences. */
function faint() {
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
  for (const element of document.querySelectorAll("main *, header *")) {
    const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim() !== "");
    const box = element.getBoundingClientRect();
    if (!own || box.width < 2 || box.height < 2 || element.closest("svg") || element.closest(".unseen")) continue;
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

test("Every word and sign of the charts and the visit stands out, in both themes, unsigned and signed", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]));
  await page.click(key("new-16"));
  await page.waitForSelector(".looks");
  const id = /\d+/.exec(new URL(page.url()).hash)[0];
  const ask = (method, path, body) => page.evaluate(([how, where, what]) => fetch(where, { method: how, headers: { "Content-Type": "application/json" }, body: JSON.stringify(what) }).then((reply) => reply.status), [method, `/api/visits/${id}/${path}`, body]);
  const said = async (method, path, body) => assert.equal(await ask(method, path, body), 200, path);
  await said("PUT", "looks/before/holds", { chart: "iso: hold 16/46 17/47 26/36; slide 15/45; open 14/44; untestable 18/48" });
  await said("PUT", "looks/before/marks", { chart: "iso: centric 16 CF+* MP- 26 CF; working 16 MB/in" });
  await said("PUT", "looks/after/holds", { chart: "iso: hold 17/47 26/36 15/45; slide 16/46; open 14/44" });
  await said("PUT", "looks/after/marks", { chart: "iso: centric 16 CF* DB+~ 26 CF+; working 16 MB/in; non-working 47 DB/in-; protrusive 14 B/dis" });
  await said("POST", "patient", { numb: true });
  await said("POST", "decision", { action: "wait" });

  const look = async (name, hash, ready) => {
    await page.evaluate((to) => (location.hash = to), hash);
    await page.waitForSelector(ready);
    for (const colorScheme of ["light", "dark"]) {
      await page.emulateMedia({ colorScheme });
      assert.deepEqual(await page.evaluate(faint), [], `${name}, ${colorScheme}`);
    }
  };
  const screens = async (state) => {
    await look(`film, ${state}`, `#/visit/${id}/film/after`, ".pairs");
    await look(`marks, ${state}`, `#/visit/${id}/marks/after/centric/16`, ".pad .marked");
    await look(`movements, ${state}`, `#/visit/${id}/marks/after/working/16`, ".pad .marked");
    await look(`visit, ${state}`, `#/visit/${id}`, ".looks");
  };
  await screens("unsigned");
  await look("reading", `#/visit/${id}/sign`, ".read-charts .plot-teeth");
  await said("POST", "sign", { name: "Supervisor 4", role: "supervisor" });
  await screens("signed");
  await page.waitForSelector(".signed");
  await stage.inspect(page, "charts-signed");
  stage.check();
});
