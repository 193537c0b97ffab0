import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { Stage } from "./harness.mjs";

const pages = ["alike", "different", "unclear", "unfit", "take"];

const folder = fs.mkdtempSync(path.join(os.tmpdir(), "retap-reports-"));
before(() => execFileSync(process.env.RETAP_HTML_PAGES, [folder]));
after(() => fs.rmSync(folder, { recursive: true, force: true }));
const made = Object.fromEntries(pages.map((name) => [name, path.join(folder, `${name}.html`)]));

const sizes = { tablet: { width: 800, height: 1280 }, phone: { width: 390, height: 800 }, "text-200": { width: 640, height: 400 } };

test("Reports open from a file, fetch nothing, are accessible and fit every screen", async (t) => {
  const stage = new Stage(t);
  for (const [name, file] of Object.entries(made)) {
    const page = await stage.open(null);
    await page.goto(pathToFileURL(file).href);
    await stage.inspect(page, `report-${name}-desk`);
    for (const [size, viewport] of Object.entries(sizes)) {
      await page.setViewportSize(viewport);
      await stage.fits(page, `report-${name}-${size}`);
      await stage.shot(page, `report-${name}-${size}`);
    }
  }
  stage.check();
});

test("A report prints on two pages at most", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(null);
  for (const [name, file] of Object.entries(made)) {
    await page.goto(pathToFileURL(file).href);
    const pdf = path.join(process.env.RETAP_SCREENSHOTS, `report-${name}.pdf`);
    await page.pdf({ path: pdf, preferCSSPageSize: true });
    const count = fs.readFileSync(pdf, "latin1").match(/\/Type\s*\/Page[^s]/g)?.length ?? 0;
    assert.ok(count >= 1 && count <= 2, `${name} prints on ${count} pages`);
  }
  stage.check();
});

/** Runs in the page: words smaller than `least` points as they are printed, drawings with their scale. */
function smallType(least) {
  const said = new Set();
  for (const element of document.body.querySelectorAll("*")) {
    const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim() !== "");
    const box = element.getBoundingClientRect();
    if (!own || box.width < 1 || box.height < 1) continue;
    const scale = element.ownerSVGElement ? element.getScreenCTM().a : 1;
    const points = parseFloat(getComputedStyle(element).fontSize) * scale * 0.75;
    if (points < least - 0.05) said.add(`${element.tagName}.${element.getAttribute("class")} ${points.toFixed(1)} pt: ${element.textContent.slice(0, 20)}`);
  }
  return [...said];
}

test("The report of a visit prints on two pages, in type of 9 pt or more, drawings included", async (t) => {
  const stage = new Stage(t);
  const retap = (...args) => execFileSync(process.env.RETAP_PROGRAM, ["visit", ...args, "--store", stage.store]);
  const report = path.join(stage.folder, "visit.html");
  retap("import", path.join(process.env.RETAP_RECORDINGS, "demo-visit.json"));
  retap("report", "1", report);
  const page = await stage.open(null, { viewport: { width: 703, height: 1054 } }); // A4 without its margins
  await page.emulateMedia({ media: "print" });
  await page.goto(pathToFileURL(report).href);
  assert.deepEqual(await page.evaluate(smallType, 9), []);
  const printed = await page.pdf({ preferCSSPageSize: true });
  assert.equal(printed.toString("latin1").match(/\/Type\s*\/Page[^s]/g)?.length, 2);
  // The second page is not nearly empty: the whole is longer than one page and a half.
  assert.ok((await page.evaluate(() => document.documentElement.scrollHeight)) > 1.5 * 1054);
  stage.check();
});

test("Our own player plays, stops and moves by keyboard, and says what it does", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(null);
  await page.goto(pathToFileURL(made.alike).href);
  assert.equal(await page.locator("audio[controls]").count(), 0);
  const play = page.getByRole("button", { name: "Play Before", exact: true });
  await play.focus();
  await page.keyboard.press("Enter");
  await page.getByRole("button", { name: "Stop Before" }).waitFor();
  await page.keyboard.press("Enter");
  await play.waitFor();
  const place = page.getByRole("slider", { name: "Place in Before" });
  await place.focus();
  await page.keyboard.press("End");
  assert.match(await place.getAttribute("aria-valuetext"), /^(\d:\d\d) of \1$/);
  stage.check();
});

test("One button plays before, then after, and stops; without scripts both players work", async (t) => {
  const stage = new Stage(t);
  const file = pathToFileURL(made.alike).href;
  const page = await stage.open(null);
  await page.goto(file);
  const button = page.locator("[data-alternate]");
  await button.click();
  await page.waitForSelector(".player.before.playing");
  await page.waitForSelector(".player.after.playing");
  // The second sound ends by itself, and the button offers to play again.
  await page.waitForFunction(() => document.querySelector("[data-alternate]").textContent === "Play before, then after");
  assert.equal(await page.locator(".playing").count(), 0);
  await button.click();
  await button.click();
  assert.equal(await page.locator(".playing").count(), 0);

  const plain = await stage.open(null, { javaScriptEnabled: false });
  await plain.goto(file);
  assert.equal(await plain.locator("audio[controls]").count(), 2);
  assert.equal(await plain.locator("[data-alternate]").isVisible(), false);
  stage.check();
});
